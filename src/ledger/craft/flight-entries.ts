// Flights: begun, logged when they ended, corrected, and what belongs to them: the worksheet of risk and what is said of
// the water. Counters that grow with flights are summed where they are judged, never here. What nobody stated stays null:
// nothing is totalled in silence.
//
// A series until back at the base may be logged as one (AMC1 ORO.MLR.110: within 24 h, same base, same commander); `legs`
// says how many flights are in it. An exceedance stands among the craft's events from then on, until an engineer clears it.
import { z } from "zod";
import { hour_ms, instantToMs, minute_ms, msToInstant } from "../../core/facts/instant.ts";
import type { CraftState, FlightFact } from "../../core/facts/craft.ts";
import { refuse } from "../entry-type.ts";
import type { EntryMeta, Refusal } from "../entry-type.ts";
import { craftEntry, hash, instant, madeId, personId, replaces, sheetId, words } from "./shapes.ts";

const crew = z.array(personId).min(1).max(12);
const cycles = z.int().min(0).max(200);

const flight = z.strictObject({
  flight: madeId,
  offAt: instant,
  onAt: instant,
  flight_h: z.number().positive().max(24),
  landings: z.int().min(1).max(200),
  hoistCycles: cycles,
  starts: z.int().min(0).max(50).nullable().default(null),
  nightLandings: cycles.nullable().default(null),
  nvis: z.boolean().nullable().default(null),
  instrument_min: z.number().min(0).max(1440).nullable().default(null),
  nightHoistCycles: cycles.nullable().default(null),
  legs: z.int().min(1).max(20).default(1),
  exceedance: z
    .union([z.literal("none"), z.strictObject({ event: sheetId.nullable(), words: words.min(1) })])
    .nullable()
    .default(null),
  operation: sheetId,
  crew,
});
type FlightBody = z.infer<typeof flight>;

/** What a limit exceeded is called among the events where the sheet lists no event for it. */
const unlisted = "exceedance";

/** More than a person can mean by one flight or series: found and wanted, one after the other. */
function senseless(body: FlightBody, at_ms: number): Refusal | null {
  const { offAt, onAt, landings, nightLandings, hoistCycles, nightHoistCycles, flight_h, legs } = body;
  const [off_ms, on_ms] = [instantToMs(offAt), instantToMs(onAt)];
  if (on_ms <= off_ms) return refuse("landedBeforeTakeOff", "onAt", onAt, `later than ${offAt}`);
  if (on_ms > at_ms + 5 * minute_ms)
    return refuse("landedInFuture", "onAt", onAt, `at most ${msToInstant(at_ms)}`);
  const lasted_min = (on_ms - off_ms) / minute_ms;
  if (landings > lasted_min)
    return refuse("moreLandingsThanMinutes", "landings", String(landings), `at most ${lasted_min}`);
  if (nightLandings !== null && nightLandings > landings)
    return refuse("moreThanAllLandings", "nightLandings", String(nightLandings), `at most ${landings}`);
  if (nightHoistCycles !== null && nightHoistCycles > hoistCycles)
    return refuse(
      "moreThanAllCycles",
      "nightHoistCycles",
      String(nightHoistCycles),
      `at most ${hoistCycles}`,
    );
  if (flight_h * 60 > lasted_min + 1)
    return refuse("longerThanItLasted", "flight_h", String(flight_h), `at most ${lasted_min} min`);
  if (legs > landings)
    return refuse("moreLegsThanLandings", "legs", String(legs), `at most ${landings}, one landing each`);
  if (legs > 1 && on_ms - off_ms > 24 * hour_ms)
    return refuse("seriesTooLong", "onAt", onAt, "within 24 hours of the first take-off");
  return null;
}

function withFlight(state: CraftState, body: FlightBody, { id, by }: EntryMeta): CraftState {
  const { offAt, onAt, exceedance, ...rest } = body;
  const [off_ms, on_ms] = [instantToMs(offAt), instantToMs(onAt)];
  const said = { entry: id, by, at_ms: on_ms };
  const isSaid = exceedance !== null && exceedance !== "none";
  const logged: FlightFact = {
    ...said,
    off_ms,
    on_ms,
    ...rest,
    exceedance: isSaid ? "said" : exceedance,
  };
  return {
    ...state,
    flights: [...state.flights, logged],
    underway: state.underway.filter(({ flight: begun }) => begun !== body.flight),
    events: isSaid
      ? [
          ...state.events,
          { ...said, event: exceedance.event ?? unlisted, words: exceedance.words, cleared: [] },
        ]
      : state.events,
  };
}

const flightLogged = craftEntry("flight.logged", flight, (state, body, meta) => {
  if ([...state.flights, ...state.flightsTwice].some((held) => held.flight === body.flight))
    return refuse("flightAlreadyLogged", "flight", body.flight, "an id that no flight has yet");
  return senseless(body, meta.at_ms) ?? withFlight(state, body, meta);
});

const flightBegun = craftEntry(
  "flight.begun",
  z.strictObject({ flight: madeId, offAt: instant, operation: sheetId, crew }),
  (state, { offAt, ...body }, { id, by, at_ms }) => {
    const off_ms = instantToMs(offAt);
    if (off_ms > at_ms + 5 * minute_ms)
      return refuse("beganInFuture", "offAt", offAt, `at most ${msToInstant(at_ms)}`);
    // Logged already by somebody who knew of it: then it is over.
    if (state.flights.some((held) => held.flight === body.flight)) return state;
    const others = state.underway.filter((held) => held.flight !== body.flight);
    return { ...state, underway: [...others, { entry: id, by, at_ms: off_ms, off_ms, ...body }] };
  },
);

const flightDropped = craftEntry(
  "flight.dropped",
  z.strictObject({ flight: madeId, why: words.min(1), at: instant }),
  (state, { flight: dropped }) =>
    state.underway.some((held) => held.flight === dropped)
      ? { ...state, underway: state.underway.filter((held) => held.flight !== dropped) }
      : refuse("flightNotBegun", "flight", dropped, "a flight that was begun and not logged"),
);

/** Another word on a flight that was logged: what takes its place, or nothing where it was logged twice. Both stay. */
const flightCorrected = craftEntry(
  "flight.corrected",
  z.strictObject({ instead: flight.nullable(), why: words.min(1), at: instant, replaces: replaces.min(1) }),
  (state, { instead, replaces: replaced }, meta) => {
    const missing = replaced.find((entry) => !state.flights.some((held) => held.entry === entry));
    if (missing !== undefined)
      return refuse("flightNotHeld", "replaces", missing, "an entry that logged a flight");
    const wrong = instead === null ? null : senseless(instead, meta.at_ms);
    if (wrong !== null) return wrong;
    const left = { ...state, flights: state.flights.filter(({ entry }) => !replaced.includes(entry)) };
    if (instead === null) return left;
    return left.flights.some((held) => held.flight === instead.flight)
      ? refuse("flightAlreadyLogged", "instead.flight", instead.flight, "an id that no flight has yet")
      : withFlight(left, instead, meta);
  },
  ["pilot", "engineer", "airworthiness"],
);

const worksheetSigned = craftEntry(
  "worksheet.signed",
  z.strictObject({
    scores: z.record(sheetId, z.int().min(0).max(1_000)),
    refusedElsewhere: z.boolean().nullable(),
    mitigation: words,
    at: instant,
  }),
  (state, { at, ...body }, { id, by }) => ({
    ...state,
    worksheets: [...state.worksheets, { entry: id, by, at_ms: instantToMs(at), ...body, released: null }],
  }),
  ["pilot"],
);

const worksheetReleased = craftEntry(
  "worksheet.released",
  z.strictObject({ worksheet: hash, words: words.min(1), at: instant }),
  (state, { worksheet, words: said, at }, { id, by }) => {
    const held = state.worksheets.find(({ entry }) => entry === worksheet);
    if (held === undefined)
      return refuse("worksheetNotHeld", "worksheet", worksheet, "a worksheet signed in this ledger");
    if (held.by === by)
      return refuse("releasedByItsSigner", "worksheet", by, "another person than the one who signed it");
    const released = { entry: id, by, at_ms: instantToMs(at), words: said };
    return {
      ...state,
      worksheets: state.worksheets.map((one) => (one === held ? { ...one, released } : one)),
    };
  },
  ["administrator"],
);

const waterSaid = craftEntry(
  "water.said",
  z.strictObject({
    seaState: z.int().min(0).max(9),
    water_C: z.number().min(-2).max(40),
    suits: z.int().min(0).max(30),
    at: instant,
  }),
  (state, { at, ...body }, { id, by }) => ({
    ...state,
    water: [...state.water, { entry: id, by, at_ms: instantToMs(at), ...body }],
  }),
);

export const flightEntries = [
  flightLogged,
  flightBegun,
  flightDropped,
  flightCorrected,
  worksheetSigned,
  worksheetReleased,
  waterSaid,
] as const;
