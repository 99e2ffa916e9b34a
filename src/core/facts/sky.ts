// What is recorded of the weather at a base, and what the operator has set for judging it: plain data, nothing judged.
//
// A report is kept as its text: it is read again wherever it is judged, so that a better reader needs no new record.
// Facts that were recorded apart stand side by side; whoever judges takes the worse. Distances and heights carry their
// unit in the key.
import type { EntryId, PersonId } from "./craft.ts";
import type { OperationId } from "./reason.ts";
import { noTanks, type TankFacts } from "./base-tank.ts";
import type { SiteNotice, SitesProposed, SitesReleased } from "./site.ts";

type Said = { readonly entry: EntryId; readonly by: PersonId; readonly at_ms: number };

/** How a report came here. All three count alike. */
export const reportSources = ["typed", "pasted", "fetched"] as const;
export type ReportSource = (typeof reportSources)[number];

/** `at_ms`: when it was heard; fixes the month and year of the day and hour in the text. */
export type ReportFact = Said & { readonly text: string; readonly source: ReportSource };

export type ObservationFact = Said & {
  readonly place: string;
  readonly expires_ms: number;
  /** Above the ground of the place; null when not judged, `clear` when there is no ceiling. */
  readonly ceiling_ft: number | "clear" | null;
  readonly visibility_m: number | null;
  /** Codes of what falls or hides the view; empty when nothing does, null when not said. */
  readonly weather: readonly string[] | null;
  readonly temperature_C: number | null;
  readonly wind: {
    readonly from_deg: number | null;
    readonly speed_kt: number;
    readonly gust_kt: number | null;
  } | null;
};

/** Quantities that a station may not measure. */
export const stationGives = ["wind", "visibility", "weather", "sky"] as const;

export type StationFact = Said & {
  readonly station: string;
  readonly name: string;
  readonly lat_deg: number;
  readonly lon_deg: number;
  readonly elevation_ft: number | null;
  /** What it measures, where it does not measure all; null for all. */
  readonly gives: readonly (typeof stationGives)[number][] | null;
};

export type Minima = { readonly ceiling_ft: number; readonly visibility_m: number };

/** What one kind of flying needs of light and weather, as the operator's approved manual says. */
export type SkyNeed = {
  readonly operation: OperationId;
  readonly light: "day" | "any";
  /** Null: not stated, so that nothing may be called known in that light. */
  readonly day: Minima | null;
  readonly night: Minima | null;
  readonly cite: string;
};

export type WeatherSettings = Said & {
  /** The rules that say what night is. */
  readonly ruleSet: "eu" | "us";
  readonly reportAge_min: number;
  readonly stationDistance_km: number;
  /** The highest ground round the base that a ceiling has to clear. */
  readonly ground_ft: number;
  readonly needs: readonly SkyNeed[];
  /** Moisture that can be seen, at or below this temperature, forbids; null where the manual has no figure. */
  readonly moisture: { readonly below_C: number; readonly cite: string } | null;
  readonly forbidden: { readonly phenomena: readonly string[]; readonly cite: string };
  /** NCD of an automatic station counts as NSC by this citation; null: it is not known, since an instrument saw nothing. */
  readonly ncd: { readonly countsAs: "NSC"; readonly cite: string } | null;
  /** By this citation forecasts are planned by the rule set's own rule; null: every change group counts, the strictest. */
  readonly planning: { readonly cite: string } | null;
  /** How a machine stands on its pad, and the wind from behind that it may start and leave with; null: from anywhere. */
  readonly pad: {
    /** True. */
    readonly heading_deg: number;
    readonly tailwind_kt: number | null;
    readonly cite: string;
  } | null;
  /** How much colder than last observed it is reckoned to get where no forecast says; null: nobody can know. */
  readonly cooling: { readonly atMost_C: number; readonly cite: string } | null;
};

/** A report or an observation that its writer takes back, with why. What it said no longer stands; that it was said does. */
export type WithdrawnFact = Said & {
  readonly withdrawn: EntryId;
  readonly what: string;
  readonly why: string;
};

export type BaseState = {
  readonly reports: readonly ReportFact[];
  readonly observations: readonly ObservationFact[];
  readonly stations: readonly StationFact[];
  readonly settings: readonly WeatherSettings[];
  readonly withdrawn: readonly WithdrawnFact[];
  /** The operator's files of sites; more than one where they were released apart. */
  readonly sites: readonly SitesReleased[];
  /** Files that wait for a second person, and those that had one. */
  readonly sitesProposed: readonly SitesProposed[];
  readonly notices: readonly SiteNotice[];
  /** What the operator's fuel scheme asks beyond the rule set; made apart, the stricter of each counts. */
  readonly fuelSchemes: readonly FuelScheme[];
  readonly tanks: TankFacts;
};

export type FuelScheme = Said & {
  readonly contingency_pct: number;
  readonly extra_kg: number;
  readonly landmarks: boolean;
  readonly hems: "local" | "continuousSites" | null;
  /** Whether it may be refuelled with engines running; left out where nobody said. */
  readonly refuelRunning?: boolean;
  readonly cite: string;
};

export const emptyBase: BaseState = {
  reports: [],
  observations: [],
  stations: [],
  settings: [],
  withdrawn: [],
  sites: [],
  sitesProposed: [],
  notices: [],
  fuelSchemes: [],
  tanks: noTanks,
};

/** The base that a craft stands at, with all that is recorded of its sky. */
export type BaseSky = {
  readonly base: string;
  readonly name: string;
  readonly lat_deg: number;
  readonly lon_deg: number;
  readonly elevation_m: number;
  readonly state: BaseState;
};
