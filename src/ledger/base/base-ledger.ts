// The ledger of a base: its weather reports as they were heard, what commanders saw, the stations that speak for it, and
// what the operator set for judging. One base, one record: three machines on the same apron stand in the same weather.
//
// A report is text with its source; fetched, pasted and typed ones are equals. A typing error is mended by a new entry
// that replaces the old one, or that takes it back with why. Reports and observations are kept in the folded state as far back as anything can rest on
// them: the newest thousand of each in the order of the fold, which is the same on every device.
import { z } from "zod";
import { hour_ms, instantToMs } from "../../core/facts/instant.ts";
import { emptyBase, reportSources, stationGives } from "../../core/facts/sky.ts";
import type { BaseState } from "../../core/facts/sky.ts";
import { beside, hash, instant, replaces, sheetId, words } from "../craft/shapes.ts";
import { refuse } from "../entry-type.ts";
import type { LedgerDefinition } from "../fold.ts";
import { baseEntry } from "./base-entry.ts";
import { siteEntries } from "./site-entries.ts";
import { tankEntries } from "./tank-entries.ts";

const kept = 1_000;
/** Nobody's look at the sky speaks for longer; the writer says how much shorter. */
const longestObservation_ms = 6 * hour_ms;

const place = z.string().min(1).max(80);
const cite = z.string().min(1).max(300);
const station = z.string().regex(/^[A-Z][A-Z0-9]{3}$/u);
const degrees = z.number().min(0).max(360);
const speed_kt = z.number().min(0).max(200);

const reportHeard = baseEntry(
  "weather.heard",
  ["pilot", "crewMember", "engineer", "airworthiness", "server"],
  z.strictObject({
    text: z.string().min(1).max(2_000),
    source: z.enum(reportSources),
    at: instant,
    replaces,
  }),
  (state, { at, replaces: replaced, ...body }, { id, by }) => ({
    ...state,
    reports: beside(state.reports, replaced, { entry: id, by, at_ms: instantToMs(at), ...body }).slice(-kept),
  }),
);

const weatherSeen = baseEntry(
  "weather.seen",
  ["pilot"],
  z.strictObject({
    place,
    at: instant,
    expires: instant,
    ceiling_ft: z.union([z.number().min(0).max(60_000), z.literal("clear"), z.null()]),
    visibility_m: z.number().min(0).max(100_000).nullable(),
    weather: z
      .array(z.string().regex(/^[+-]?[A-Z]{2,8}$/u))
      .max(6)
      .nullable(),
    temperature_C: z.number().min(-80).max(60).nullable(),
    wind: z.strictObject({ from_deg: degrees.nullable(), speed_kt, gust_kt: speed_kt.nullable() }).nullable(),
    replaces,
  }),
  (state, { at, expires, replaces: replaced, ...body }, { id, by }) => {
    const [at_ms, expires_ms] = [instantToMs(at), instantToMs(expires)];
    if (!(expires_ms > at_ms && expires_ms <= at_ms + longestObservation_ms))
      return refuse("expiry", "expires", expires, "after it was made, and within six hours");
    const fact = { entry: id, by, at_ms, expires_ms, ...body };
    return { ...state, observations: beside(state.observations, replaced, fact).slice(-kept) };
  },
);

const stationDescribed = baseEntry(
  "weather.stationDescribed",
  ["administrator", "airworthiness"],
  z.strictObject({
    station,
    name: z.string().min(1).max(80),
    lat_deg: z.number().min(-90).max(90),
    lon_deg: z.number().min(-180).max(180),
    elevation_ft: z.number().min(-2_000).max(30_000).nullable(),
    gives: z.array(z.enum(stationGives)).min(1).max(stationGives.length).nullable(),
    replaces,
  }),
  (state, { replaces: replaced, ...body }, { id, by, at_ms }) => ({
    ...state,
    stations: beside(state.stations, replaced, { entry: id, by, at_ms, ...body }),
  }),
);

/**
 * Takes back what somebody typed or saw. A fetched report is nobody's slip of the pen, so it stays. Whether it may be taken
 * back is asked of what is held when the entry is folded; one that is not held any more changes nothing.
 */
const weatherWithdrawn = baseEntry(
  "weather.withdrawn",
  ["pilot", "crewMember", "engineer", "airworthiness"],
  z.strictObject({ withdrawn: hash, why: words.min(1), at: instant }),
  (state, { withdrawn, why, at }, { id, by }) => {
    const report = state.reports.find(({ entry }) => entry === withdrawn);
    if (report?.source === "fetched")
      return refuse("fetchedReport", "withdrawn", withdrawn, "a report that a person typed or pasted");
    const seen = state.observations.find(({ entry }) => entry === withdrawn);
    if (seen !== undefined && seen.by !== by)
      return refuse("anothersLook", "withdrawn", withdrawn, "an observation of one's own");
    const what = report?.text ?? seen?.place;
    if (what === undefined) return state;
    return {
      ...state,
      reports: state.reports.filter(({ entry }) => entry !== withdrawn),
      observations: state.observations.filter(({ entry }) => entry !== withdrawn),
      withdrawn: [...state.withdrawn, { entry: id, by, at_ms: instantToMs(at), withdrawn, what, why }].slice(
        -kept,
      ),
    };
  },
);

const minima = z.strictObject({
  ceiling_ft: z.number().min(0).max(20_000),
  visibility_m: z.number().min(0).max(20_000),
});

const settingsSet = baseEntry(
  "weather.settingsSet",
  ["administrator", "airworthiness"],
  z.strictObject({
    ruleSet: z.enum(["eu", "us"]),
    reportAge_min: z.number().min(1).max(360),
    stationDistance_km: z.number().min(0).max(200),
    ground_ft: z.number().min(-2_000).max(30_000),
    needs: z
      .array(
        z.strictObject({
          operation: sheetId,
          light: z.enum(["day", "any"]),
          day: minima.nullable(),
          night: minima.nullable(),
          cite,
        }),
      )
      .max(100),
    moisture: z.strictObject({ below_C: z.number().min(-60).max(30), cite }).nullable(),
    forbidden: z.strictObject({ phenomena: z.array(z.string().regex(/^[A-Z]{2}$/u)).max(40), cite }),
    ncd: z.strictObject({ countsAs: z.literal("NSC"), cite }).nullable(),
    planning: z.strictObject({ cite }).nullable().default(null),
    pad: z
      .strictObject({
        heading_deg: degrees,
        tailwind_kt: z.number().min(0).max(100).nullable(),
        cite,
      })
      .nullable()
      .default(null),
    cooling: z
      .strictObject({ atMost_C: z.number().min(0).max(40), cite })
      .nullable()
      .default(null),
    replaces,
  }),
  (state, { replaces: replaced, ...body }, { id, by, at_ms }) => ({
    ...state,
    settings: beside(state.settings, replaced, { entry: id, by, at_ms, ...body }),
  }),
);

export const baseLedger: LedgerDefinition<BaseState> = {
  initial: emptyBase,
  types: [
    reportHeard,
    weatherSeen,
    weatherWithdrawn,
    stationDescribed,
    settingsSet,
    ...siteEntries,
    ...tankEntries,
  ],
};
