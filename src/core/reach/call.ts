// What a call is, what is known when it is asked about, and what the answer tells: the vocabulary of this room.
//
// A call is one flight in legs: from where the craft is, to one stop after the other, usually scene, hospital, base. It is
// asked of an operation of the sheet, with so much fuel, in one air. `assessCall(known, call)` (assess-call.ts) answers it:
//
//   legs      time, ground speed, fuel, take-off and landing mass, centre of gravity along the whole burn
//   stops     when it arrives and leaves, what the charts of power allow there, what the sky says there
//   fuel      what is required by components, what is left at the last landing
//   margins   everything that is compared with a limit, in its own unit; the one that binds stands first
//   reasons   what the record, the sky and notices say against it in its time
//   verdict   as a standing: ready, within limits, not known, not ready; worse wins
//
// What would make it acceptable is solved by remediesFor(known, call) (call-remedies.ts), exactly; reach.ts answers the
// same for every place of a map. A margin binds by its share: the room over what is needed (fuel over the fuel required,
// mass over the largest mass, minutes over the minutes of the call). What is not met binds first, then what is not known,
// then the smallest share. Patients are taken at every mass from none to the one stated; kit that people differ on both ways; several
// weighings or loadings each, and the worst counts.
// Units: kg, ft, nm, kt, minutes; instants in milliseconds. Right and aft positive.
import type { BurnTrack } from "../load/burn-track.ts";
import type { CraftState } from "../facts/craft.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import type { Site, SiteFile, SiteNotice } from "../facts/site.ts";
import type { Situation } from "../facts/situation.ts";
import type { FuelPlan } from "../fuel/fuel-plan.ts";
import type { FlightRules, HemsFuel } from "../rules/fuel-reserve.ts";
import type { PowerUse } from "../sheet/chart-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { PlaceQuestion } from "./ask-about-place.ts";

export type CallPlace = {
  readonly name: string;
  readonly lat_deg: number;
  readonly lon_deg: number;
  /** The most that it can be ("at most 1,500 m"); null: not known, and so are mass and power there. */
  readonly elevation_ft: number | null;
  /** One of the operator's sites, by id; null for any other place. */
  readonly site: string | null;
};

/** Somebody or something that comes aboard: from nothing to the most, at a station of the sheet. */
export type Boarding = {
  readonly id: string;
  /** A stretcher or a seat of the sheet, by id. */
  readonly at: string;
  readonly most_kg: number;
  /** Weighed: this mass and no other. Otherwise every mass from none to the most must be inside. */
  readonly exact?: boolean;
};

export const stopRoles = ["scene", "hospital", "base", "other"] as const;
export type StopRole = (typeof stopRoles)[number];

export type CallStop = {
  readonly place: CallPlace;
  readonly role: StopRole;
  readonly stay_min: number;
  /** During the stay: engines running, stopped and started again, or in a hover (hoist). */
  readonly engines: "running" | "stopped" | "hover";
  readonly boards: readonly Boarding[];
  /** Ids of boardings that leave here. */
  readonly leaves: readonly string[];
  /** Ids of the loading's kit that stay behind here. */
  readonly kitLeft: readonly string[];
  readonly uplift_kg: number;
  /** The load on the hook here, without hook and harness; null for none. */
  readonly hook_kg: number | null;
  /** Headwind for the landing, measured there; null counts as none. */
  readonly headwind_kt: number | null;
};

/** One air for the whole call. */
export type CallAir = {
  /** Null from for a wind that may come from anywhere: then it blows against every leg. */
  readonly wind: { readonly from_deg: number | null; readonly speed_kt: number } | null;
  readonly qnh_hPa: number | null;
  /** Measured at an elevation. Higher up it counts as no colder, lower down as warmer by the standard lapse. */
  readonly temperature: { readonly value_C: number; readonly elevation_ft: number } | null;
};

export type Call = {
  readonly operation: OperationId;
  readonly depart_ms: number;
  /** Where it starts: the base, or the position of a craft in flight. */
  readonly from: CallPlace;
  readonly isAirborne: boolean;
  readonly stops: readonly CallStop[];
  /** On board at the start: usable. */
  readonly fuel_kg: number;
  /** The most that it may be, where that is not certain: the smaller counts for the way, the larger for mass; null or as above. */
  readonly mostFuel_kg: number | null;
  readonly tas_kt: number;
  /** Already aboard at the start, beside the loading. */
  readonly aboard: readonly Boarding[];
  /** Ids of the loading's kit that are not aboard. */
  readonly without: readonly string[];
  readonly air: CallAir;
  readonly flightRules: FlightRules;
  /** Where it could land instead of at its last stop. By instruments one has to be said, or that none is required. */
  readonly alternate: CallPlace | null;
  /** That none is required is the commander's word. */
  readonly isAlternateNotRequired?: boolean;
  /** As somebody wrote them down; left out as null: nobody did. */
  readonly heights?: CallHeights;
};

export type CallHeights = {
  /** The top of the highest obstacle of the whole route, above the sea. */
  readonly highestObstacle_ft: number | null;
  /** The height of cruise, above the sea; without one the legs count as flown at the higher of their ends. */
  readonly cruise_ft: number | null;
};

/** What the operator's fuel scheme adds to the rule set. */
export type FuelPolicy = {
  readonly contingency_pct: number;
  readonly hems: HemsFuel | null;
  readonly landmarks: boolean;
  readonly extra_kg: number;
  /** Whether it may be refuelled with engines running; not where nobody said so. */
  readonly refuelRunning: boolean;
};

/** What the sky says at a place, in a time, as reasons with their own times; light is among them. */
export type SkyAt = (place: CallPlace, from_ms: number, until_ms: number) => readonly Reason[];

export type CallKnown = {
  readonly sheet: Sheet;
  readonly state: CraftState;
  readonly situation: Situation;
  /** All reasons of the standing; those of sky, load and reference call are left out here, since the call has its own. */
  readonly reasons: readonly Reason[];
  readonly sites: readonly Site[];
  readonly land: SiteFile["land"];
  readonly notices: readonly SiteNotice[];
  readonly policy: FuelPolicy;
  /** Null: nothing of the sky is known. */
  readonly skyAt: SkyAt | null;
  readonly lightAt: ((place: CallPlace, at_ms: number) => "day" | "night") | null;
  /** When day and night next change at a place after an instant; null for not soon. Left out: it is not known when. */
  readonly lightChange?: (place: CallPlace, at_ms: number) => number | null;
  /** What is not asked about: a reference call has no worksheet and no route of its own, a map no route. */
  readonly notAsked?: readonly ("worksheet" | "obstacle")[];
};

// ---- the answer --------------------------------------------------------------------------------------------------------

export const marginKinds = [
  "fuel",
  "tank",
  "mass",
  "leastMass",
  "balance",
  "place",
  "seat",
  "hook",
  "hoverInGroundEffect",
  "hoverOutOfGroundEffect",
  "oneEngineInoperative",
  "climb",
  "operatingLimit",
  "light",
  "weather",
  "record",
  "notice",
  "siteSize",
  "flightHours_h",
  "landings",
  "starts",
  "hoistCycles",
  "flights",
  "cycles",
  "worksheet",
  "obstacle",
  "oxygen",
] as const;
export type MarginKind = (typeof marginKinds)[number];

export type MarginUnit = "kg" | "min" | "C" | "m" | "ft" | "h" | "count";

export type Margin = {
  readonly kind: MarginKind;
  /** At which stop, −1 for the start; null for the whole call. */
  readonly stop: number | null;
  /** On which leg; null where none. */
  readonly leg: number | null;
  /** Met, not met, or null for not known. */
  readonly met: boolean | null;
  /** Room in `unit`, negative where not met; null where there is no number. */
  readonly room: number | null;
  readonly unit: MarginUnit;
  /** What there is, and what it is compared with. */
  readonly is: number | null;
  readonly limit: number | null;
  /** Room over what is needed: by it margins are put in order. Null as `room`. */
  readonly share: number | null;
  /** Why it is not known, or which limit of balance, notice or reason it is: a code or an id. */
  readonly what: string | null;
};

export type CallLeg = {
  readonly from: string;
  readonly to: string;
  readonly distance_nm: number;
  readonly track_deg: number | null;
  /** Null where the wind makes the track impossible or is not known. */
  readonly groundspeed_kt: number | null;
  readonly time_min: number | null;
  readonly flow_kgh: number | null;
  readonly fuel_kg: number | null;
  readonly fuelAtStart_kg: number | null;
  readonly fuelAtEnd_kg: number | null;
  /** With every patient at its most. */
  readonly takeoffMass_kg: number | null;
  readonly landingMass_kg: number | null;
  /** Along the burn, with every patient at its most; null where it cannot be computed. */
  readonly balance: BurnTrack | null;
};

export type StopAnswer = {
  readonly name: string;
  readonly role: StopRole;
  readonly arrive_ms: number | null;
  readonly leave_ms: number | null;
  readonly pressureAltitude_ft: number | null;
  readonly temperature_C: number | null;
  readonly light: "day" | "night" | null;
  /** The larger of landing and take-off mass there. */
  readonly mass_kg: number | null;
  readonly fuelAtArrival_kg: number | null;
  /** The largest mass by each use of the charts that the operation needs; null where not known or without one. */
  readonly power: readonly { readonly use: PowerUse; readonly most_kg: number | null }[];
};

export type CallFuel = FuelPlan & {
  /** Fuel at the start of the stretch that binds: the call, or from an uplift on. */
  readonly fuel_kg: number;
  readonly atLastLanding_kg: number;
  readonly cite: string;
  /** How long one could fly on with what is above the final reserve at the last landing. */
  readonly spare_min: number;
};

export type CallVerdict = "ready" | "withinLimits" | "notKnown" | "notReady";

export type SiteSides = { readonly width_m: number; readonly length_m: number };

export type AboutSite = {
  readonly ask: "sizeNotKnown" | "notLit" | "lightingNotKnown" | "tooSmall";
  readonly stop: number;
  readonly needed_m: SiteSides | null;
};

export type CallAnswer = {
  readonly call: Call;
  readonly at_ms: number;
  readonly verdict: CallVerdict;
  /** Null where not known. */
  readonly isAcceptable: boolean | null;
  readonly legs: readonly CallLeg[];
  readonly stops: readonly StopAnswer[];
  readonly fuel: CallFuel | null;
  readonly ends_ms: number | null;
  /** The one that binds first. */
  readonly margins: readonly Margin[];
  readonly reasons: readonly Reason[];
  readonly questions: readonly (PlaceQuestion & { readonly stop: number })[];
  readonly aboutSites: readonly AboutSite[];
  /** What was taken for granted because nobody said it: `crew` by the sheet's masses, … */
  readonly assumed: readonly string[];
  /** Entry ids of weighing and loading that the worst case rests on. */
  readonly evidence: readonly string[];
};
