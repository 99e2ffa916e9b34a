// Flights as logged. Counters that grow with them are summed where they are shown, never here.
import { z } from "zod";
import { instantToMs } from "../../core/facts/instant.ts";
import { refuse } from "../entry-type.ts";
import { craftEntry, instant, madeId, personId, sheetId } from "./shapes.ts";

const flight = z.strictObject({
  flight: madeId,
  offAt: instant,
  onAt: instant,
  flight_h: z.number().positive().max(24),
  landings: z.int().min(1).max(200),
  hoistCycles: z.int().min(0).max(200),
  operation: sheetId,
  crew: z.array(personId).min(1).max(12),
});

const flightLogged = craftEntry("flight.logged", flight, (state, { offAt, onAt, ...body }, { id, by }) => {
  const off_ms = instantToMs(offAt);
  const on_ms = instantToMs(onAt);
  if (on_ms <= off_ms) return refuse("landedBeforeTakeOff", "onAt", onAt, `later than ${offAt}`);
  if (state.flights.some((held) => held.flight === body.flight)) {
    return refuse("flightAlreadyLogged", "flight", body.flight, "an id that no flight has yet");
  }
  return { ...state, flights: [...state.flights, { entry: id, by, at_ms: on_ms, off_ms, on_ms, ...body }] };
});

export const flightEntries = [flightLogged] as const;
