// One crew hands the machine to the next: a page that the giver signs, and that whoever it was for signs as read. The page is
// kept as it was read, line by line; the second signature names the first by its entry, and so the very same words.
import { z } from "zod";
import { instantToMs } from "../../core/facts/instant.ts";
import { refuse } from "../entry-type.ts";
import { craftEntry, hash, instant, madeId, personId, words } from "./shapes.ts";

const lines = z.array(z.string().min(1).max(600)).max(200);
const crew = ["pilot", "crewMember"] as const;

const handoverGiven = craftEntry(
  "handover.given",
  z.strictObject({
    handover: madeId,
    to: personId,
    since: instant.nullable(),
    shiftEnds: instant,
    changed: lines,
    ending: lines,
    open: lines,
    flightsOpen: words,
    words,
    at: instant,
  }),
  (state, { at, since, shiftEnds, ...body }, { id, by }) => {
    if (body.to === by)
      return refuse("handedToOneself", "to", body.to, "another person than the one who hands over");
    if (state.pagesHanded.some(({ handover }) => handover === body.handover))
      return refuse("handoverAlreadyGiven", "handover", body.handover, "an id that no handover has yet");
    const at_ms = instantToMs(at);
    const shiftEnds_ms = instantToMs(shiftEnds);
    if (shiftEnds_ms <= at_ms)
      return refuse("endsBeforeItBegins", "shiftEnds", shiftEnds, `later than ${at}`);
    const since_ms = since === null ? null : instantToMs(since);
    const page = { entry: id, by, at_ms, since_ms, shiftEnds_ms, ...body, taken: [] };
    return { ...state, pagesHanded: [...state.pagesHanded, page] };
  },
  crew,
);

const handoverTaken = craftEntry(
  "handover.taken",
  z.strictObject({ given: hash, words, at: instant }),
  (state, { at, given, words: said }, { id, by }) => {
    const page = state.pagesHanded.find(({ entry }) => entry === given);
    if (page === undefined)
      return refuse("handoverNotHeld", "given", given, "a page handed over in this ledger");
    if (page.to !== by) return refuse("handedToAnother", "given", by, page.to);
    const taken = { entry: id, by, at_ms: instantToMs(at), words: said };
    return {
      ...state,
      pagesHanded: state.pagesHanded.map((one) =>
        one.entry === given ? { ...one, taken: [...one.taken, taken] } : one,
      ),
    };
  },
  crew,
);

export const handoverEntries = [handoverGiven, handoverTaken] as const;
