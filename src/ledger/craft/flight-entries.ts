// Flights as logged. Counters that grow with them are summed where they are judged, never here. What nobody stated stays
// null: nothing is totalled in silence.
import { z } from "zod";
import { instantToMs, minute_ms } from "../../core/facts/instant.ts";
import { refuse } from "../entry-type.ts";
import { craftEntry, instant, madeId, personId, sheetId } from "./shapes.ts";

const flight = z.strictObject({
  flight: madeId,
  offAt: instant,
  onAt: instant,
  flight_h: z.number().positive().max(24),
  landings: z.int().min(1).max(200),
  hoistCycles: z.int().min(0).max(200),
  starts: z.int().min(0).max(50).nullable().default(null),
  nightLandings: z.int().min(0).max(200).nullable().default(null),
  nvis: z.boolean().nullable().default(null),
  instrument_min: z.number().min(0).max(1440).nullable().default(null),
  operation: sheetId,
  crew: z.array(personId).min(1).max(12),
});

const flightLogged = craftEntry("flight.logged", flight, (state, { offAt, onAt, ...body }, { id, by }) => {
  const off_ms = instantToMs(offAt);
  const on_ms = instantToMs(onAt);
  if (on_ms <= off_ms) return refuse("landedBeforeTakeOff", "onAt", onAt, `later than ${offAt}`);
  const lasted_min = (on_ms - off_ms) / minute_ms;
  if (body.landings > lasted_min)
    return refuse("moreLandingsThanMinutes", "landings", String(body.landings), `at most ${lasted_min}`);
  if (body.nightLandings !== null && body.nightLandings > body.landings)
    return refuse(
      "moreThanAllLandings",
      "nightLandings",
      String(body.nightLandings),
      `at most ${body.landings}`,
    );
  if (body.flight_h * 60 > lasted_min + 1)
    return refuse("longerThanItLasted", "flight_h", String(body.flight_h), `at most ${lasted_min} min`);
  if ([...state.flights, ...state.flightsTwice].some((held) => held.flight === body.flight)) {
    return refuse("flightAlreadyLogged", "flight", body.flight, "an id that no flight has yet");
  }
  return { ...state, flights: [...state.flights, { entry: id, by, at_ms: on_ms, off_ms, on_ms, ...body }] };
});

export const flightEntries = [flightLogged] as const;
