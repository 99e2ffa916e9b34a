// Entries of the walk. A page is one person's marks at one stop, sealed when the person leaves it or is interrupted.
// Pages merge per item: a mark replaces only the marks of pages that the writer had on the screen, so that what two
// people marked apart stands side by side and the worse wins. Times of single marks are never recorded.
import { z } from "zod";
import { interruptionCauses, marks, voidCauses, walkKinds } from "../../core/facts/craft.ts";
import type { CraftState, MarkFact, WalkFacts } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { refuse, withKey } from "../entry-type.ts";
import type { EntryMeta, EntryType, Refusal } from "../entry-type.ts";
import { closureSet, closuresSet } from "./closure-entries.ts";
import { readingShape, readingsTaken } from "./reading-entries.ts";
import { beside, craftEntry, hash, instant, madeId, replaces, sheetId, walkers, words } from "./shapes.ts";

const conditions = z.record(sheetId, z.boolean().nullable());

const begun = z.strictObject({
  walk: madeId,
  kind: z.enum(walkKinds),
  sheet: hash,
  plan: hash,
  conditions,
  begunAt: instant,
  paper: z.boolean(),
});

const mark = z.strictObject({
  item: sheetId,
  mark: z.enum(marks),
  why: words.min(1).nullable(),
  finding: madeId.nullable(),
});

const page = z.strictObject({
  walk: madeId,
  stop: sheetId,
  arrivedAt: instant,
  leftAt: instant,
  sealedBy: z.enum(["left", "interrupted"]),
  marks: z.array(mark).max(200),
  closures: z.array(closureSet).max(100),
  readings: z.array(readingShape).max(100),
  replaces,
});

const interrupted = z.strictObject({
  walk: madeId,
  cause: z.enum(interruptionCauses),
  stop: sheetId.nullable(),
  words,
  at: instant,
});

const resumed = z.strictObject({
  walk: madeId,
  interruption: hash,
  reopened: z.array(sheetId).max(400),
  at: instant,
});

const finished = z.strictObject({ walk: madeId, at: instant });
const voided = z.strictObject({ walk: madeId, cause: z.enum(voidCauses), words, at: instant });
const weather = z.strictObject({ walk: madeId, conditions, at: instant });

/**
 * A whole walk that was made on paper and typed in afterwards, in one piece: it is there whole or not at all. Each page
 * carries the times of the paper, which names none for a single stop.
 */
const typed = z.strictObject({
  walk: madeId,
  kind: z.enum(walkKinds),
  sheet: hash,
  plan: hash,
  conditions,
  begunAt: instant,
  endedAt: instant,
  pages: z
    .array(
      z.strictObject({
        stop: sheetId,
        marks: z.array(mark).max(200),
        closures: z.array(closureSet).max(100),
        readings: z.array(readingShape).max(100),
      }),
    )
    .max(500),
});

/** `closures`: what the marks said closed is not known to be closed any more. */
const takenBack = z.strictObject({
  walk: madeId,
  page: hash,
  items: z.array(sheetId).min(1).max(200),
  closures: z.array(closureSet).max(100),
  at: instant,
});

function withWalk(
  state: CraftState,
  walk: string,
  meta: EntryMeta,
  change: (facts: WalkFacts) => WalkFacts | Refusal,
): CraftState | Refusal {
  const facts = own(state.walks, walk);
  if (facts === undefined) return refuse("walkNotBegun", "walk", walk, "a walk begun in this ledger");
  const changed = change(facts);
  return "refused" in changed ? changed : { ...state, walks: withKey(state.walks, walk, changed, meta) };
}

function walkAlreadyBegun(state: CraftState, walk: string): Refusal | null {
  return own(state.walks, walk) === undefined
    ? null
    : refuse("walkAlreadyBegun", "walk", walk, "an id that no walk has yet");
}

function walkFrom(body: z.infer<typeof begun>, { id, by }: EntryMeta): WalkFacts {
  const at_ms = instantToMs(body.begunAt);
  return {
    walk: body.walk,
    kind: body.kind,
    begun: { entry: id, by, at_ms, sheet: body.sheet, plan: body.plan, conditions: body.conditions },
    marks: {},
    visits: [],
    interruptions: [],
    weather: [],
    takenBack: [],
    finished: [],
    voided: [],
    paper: body.paper,
  };
}

function beginWalk(state: CraftState, body: z.infer<typeof begun>, meta: EntryMeta): CraftState | Refusal {
  const refusal = walkAlreadyBegun(state, body.walk);
  if (refusal !== null) return refusal;
  return { ...state, walks: withKey(state.walks, body.walk, walkFrom(body, meta), meta) };
}

type PageBody = z.infer<typeof page>;
type PageSaid = { readonly entry: string; readonly by: string; readonly at_ms: number };

/** The walk with a page's marks and its visit to the stop. */
function pageAdded(
  facts: WalkFacts,
  body: Omit<PageBody, "arrivedAt" | "leftAt">,
  said: PageSaid,
  arrived_ms: number,
): WalkFacts {
  const marked: Record<string, readonly MarkFact[]> = { ...facts.marks };
  for (const { item, ...rest } of body.marks) {
    marked[item] = beside(own(marked, item), body.replaces, { ...said, ...rest });
  }
  const { stop, sealedBy } = body;
  const visit = { ...said, stop, arrived_ms, left_ms: said.at_ms, sealedBy };
  return { ...facts, marks: marked, visits: [...facts.visits, visit] };
}

/** What a page says beside its marks. */
function besideMarks(
  state: CraftState,
  { walk, closures, readings }: Pick<PageBody, "walk" | "closures" | "readings">,
  said: PageSaid,
): CraftState {
  return {
    ...state,
    closures: closuresSet(state.closures, closures, said, walk),
    readings: readingsTaken(state.readings, readings, said, walk),
  };
}

function foldPage(state: CraftState, body: PageBody, meta: EntryMeta): CraftState | Refusal {
  const arrived_ms = instantToMs(body.arrivedAt);
  const left_ms = instantToMs(body.leftAt);
  if (left_ms < arrived_ms)
    return refuse("leftBeforeArriving", "leftAt", body.leftAt, `not before ${body.arrivedAt}`);
  const said = { entry: meta.id, by: meta.by, at_ms: left_ms };
  const walked = withWalk(state, body.walk, meta, (facts) => pageAdded(facts, body, said, arrived_ms));
  return "refused" in walked ? walked : besideMarks(walked, body, said);
}

function takeBack(state: CraftState, body: z.infer<typeof takenBack>, meta: EntryMeta): CraftState | Refusal {
  const { id, by } = meta;
  const said = { entry: id, by, at_ms: instantToMs(body.at) };
  const walked = withWalk(state, body.walk, meta, (facts) => {
    const visit = facts.visits.find(({ entry }) => entry === body.page);
    if (visit === undefined) return refuse("pageNotHeld", "page", body.page, "a page of this walk");
    if (visit.by !== by)
      return refuse("pageOfAnother", "page", visit.by, "the person who marked it, or a mark of one's own");
    const kept = Object.entries(facts.marks).map(([item, marked]): [string, readonly MarkFact[]] => [
      item,
      body.items.includes(item) ? marked.filter(({ entry }) => entry !== body.page) : marked,
    ]);
    return {
      ...facts,
      marks: Object.fromEntries(kept.filter(([, marked]) => marked.length > 0)),
      takenBack: [...facts.takenBack, { ...said, page: body.page, items: body.items }],
    };
  });
  if ("refused" in walked) return walked;
  return { ...walked, closures: closuresSet(walked.closures, body.closures, said, body.walk) };
}

function typeWalk(
  state: CraftState,
  { endedAt, pages, ...body }: z.infer<typeof typed>,
  meta: EntryMeta,
): CraftState | Refusal {
  const ended_ms = instantToMs(endedAt);
  if (ended_ms < instantToMs(body.begunAt))
    return refuse("endedBeforeBeginning", "endedAt", endedAt, `not before ${body.begunAt}`);
  if (ended_ms > meta.at_ms) return refuse("typedBeforeWalked", "endedAt", endedAt, `not after ${meta.at}`);
  const refusal = walkAlreadyBegun(state, body.walk);
  if (refusal !== null) return refusal;
  const said = { entry: meta.id, by: meta.by, at_ms: ended_ms };
  let facts = walkFrom({ ...body, paper: true }, meta);
  let walked = state;
  for (const written of pages) {
    const one = { walk: body.walk, ...written, sealedBy: "left", replaces: [] } as const;
    facts = pageAdded(facts, { ...one, replaces: [] }, said, facts.begun.at_ms);
    walked = besideMarks(walked, one, said);
  }
  return { ...walked, walks: withKey(state.walks, body.walk, { ...facts, finished: [said] }, meta) };
}

function interruptWalk(
  state: CraftState,
  body: z.infer<typeof interrupted>,
  meta: EntryMeta,
): CraftState | Refusal {
  const { id, by } = meta;
  return withWalk(state, body.walk, meta, (facts) => ({
    ...facts,
    interruptions: [
      ...facts.interruptions,
      {
        entry: id,
        by,
        at_ms: instantToMs(body.at),
        cause: body.cause,
        stop: body.stop,
        words: body.words,
        resumed: null,
      },
    ],
  }));
}

function resumeWalk(state: CraftState, body: z.infer<typeof resumed>, meta: EntryMeta): CraftState | Refusal {
  const { id, by } = meta;
  return withWalk(state, body.walk, meta, (facts) => {
    if (!facts.interruptions.some(({ entry }) => entry === body.interruption)) {
      return refuse("interruptionNotHeld", "interruption", body.interruption, "an interruption of this walk");
    }
    const back = { entry: id, by, at_ms: instantToMs(body.at), reopened: body.reopened };
    return {
      ...facts,
      // A reopened item is blank again whoever marked it: it will be asked, which is the worse end of not knowing.
      marks: Object.fromEntries(
        Object.entries(facts.marks).filter(([item]) => !body.reopened.includes(item)),
      ),
      interruptions: facts.interruptions.map((interruption) =>
        interruption.entry === body.interruption ? { ...interruption, resumed: back } : interruption,
      ),
    };
  });
}

/** Only who may walk round a craft may begin, mark, finish or void a walk of it. */
function walkEntry<Body>(
  type: string,
  body: z.ZodType<Body>,
  reduce: (state: CraftState, body: Body, meta: EntryMeta) => CraftState | Refusal,
): EntryType<CraftState> {
  return craftEntry(type, body, reduce, walkers);
}

export const walkEntries = [
  walkEntry("walk.begun", begun, beginWalk),
  walkEntry("walk.page", page, foldPage),
  walkEntry("walk.interrupted", interrupted, interruptWalk),
  walkEntry("walk.resumed", resumed, resumeWalk),
  walkEntry("walk.finished", finished, (state, body, meta) =>
    withWalk(state, body.walk, meta, (facts) => ({
      ...facts,
      finished: [...facts.finished, { entry: meta.id, by: meta.by, at_ms: instantToMs(body.at) }],
    })),
  ),
  walkEntry("walk.voided", voided, (state, body, meta) =>
    withWalk(state, body.walk, meta, (facts) => ({
      ...facts,
      voided: [
        ...facts.voided,
        { entry: meta.id, by: meta.by, at_ms: instantToMs(body.at), cause: body.cause, words: body.words },
      ],
    })),
  ),
  walkEntry("walk.typed", typed, typeWalk),
  walkEntry("walk.takenBack", takenBack, takeBack),
  walkEntry("walk.weather", weather, (state, body, meta) =>
    withWalk(state, body.walk, meta, (facts) => ({
      ...facts,
      weather: [
        ...facts.weather,
        { entry: meta.id, by: meta.by, at_ms: instantToMs(body.at), conditions: body.conditions },
      ],
    })),
  ),
] as const;

export type WalkBegun = z.infer<typeof begun>;
export type WalkPage = z.infer<typeof page>;
export type TypedWalk = z.infer<typeof typed>;
export type TakenBack = z.infer<typeof takenBack>;
