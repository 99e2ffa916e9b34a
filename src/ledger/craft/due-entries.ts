// What runs out: the opening balance, tasks done, components fitted and removed, obligations, and what belongs to a
// deferral beside its judgement. Counters are signed for by a person; a step back or aside needs its reason.
import { z } from "zod";
import { counterNames, obligationKinds, positionKey } from "../../core/facts/due.ts";
import type { Counters, DueFacts } from "../../core/facts/due.ts";
import type { CraftState, DeferralStep } from "../../core/facts/craft.ts";
import { isCalendarDate } from "../../core/facts/calendar.ts";
import { instantToMs, msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { refuse } from "../entry-type.ts";
import type { Refusal } from "../entry-type.ts";
import { beside, craftEntry, instant, madeId, replaces, sheetId, words } from "./shapes.ts";

const amount = z.number().min(0).max(1_000_000);
const counters = z.strictObject({
  flightHours_h: amount,
  landings: amount,
  starts: amount,
  hoistCycles: amount,
}) satisfies z.ZodType<Counters>;
const day = z.string().refine(isCalendarDate, { error: "a date of the form YYYY-MM-DD" });

const fitted = z.strictObject({
  component: sheetId,
  position: z.int().min(0).max(19),
  serial: z.string().min(1).max(60),
  sinceNew: counters,
  sinceOverhaul: counters,
  craftCounters: counters,
  newOn: day,
  overhauledOn: day.nullable(),
  expiresOn: day.nullable(),
});

const obligation = z.strictObject({
  obligation: sheetId,
  kind: z.enum(obligationKinds),
  words: words.min(1),
  lastDay: day.nullable(),
  dueAt: z.partialRecord(z.enum(counterNames), amount),
  takesAway: z.union([z.literal("all"), z.array(sheetId).max(50)]),
  settled: z.boolean(),
});

const done = z.strictObject({ task: sheetId, counters, on: day });

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };
type Fitted = z.infer<typeof fitted>;
type Done = z.infer<typeof done>;
type ObligationBody = z.infer<typeof obligation>;

const withDue = (state: CraftState, change: Partial<DueFacts>): CraftState => ({
  ...state,
  due: { ...state.due, ...change },
});

function tasksDone(held: DueFacts["done"], tasks: readonly Done[], said: Said): DueFacts["done"] {
  const next = { ...held };
  for (const one of tasks) next[one.task] = [...(own(next, one.task) ?? []), { ...said, ...one }];
  return next;
}

function componentsFitted(
  held: DueFacts["components"],
  parts: readonly Fitted[],
  replaced: readonly string[],
  said: Said,
): DueFacts["components"] {
  const next = { ...held };
  for (const part of parts) {
    const key = positionKey(part.component, part.position);
    next[key] = beside(own(next, key), [...replaced, said.entry], { ...said, ...part });
  }
  return next;
}

function obligationsSet(
  held: DueFacts["obligations"],
  set: readonly ObligationBody[],
  replaced: readonly string[],
  said: Said,
): DueFacts["obligations"] {
  const next = { ...held };
  for (const one of set)
    next[one.obligation] = beside(own(next, one.obligation), [...replaced, said.entry], {
      ...said,
      ...one,
      dueAt: one.dueAt,
    });
  return next;
}

/** A day after the one on which it was written, in any zone: a day ahead is allowed for the zone's sake. */
function isAhead(on: string, at_ms: number): boolean {
  return on > msToInstant(at_ms + 24 * 3_600_000).slice(0, 10);
}

const airworthiness = ["airworthiness"];
const maintainers = ["engineer", "airworthiness"];

const balanceSigned = craftEntry(
  "balance.signed",
  z.strictObject({
    counters,
    done: z.array(done).max(500),
    components: z.array(fitted).max(500),
    obligations: z.array(obligation).max(200),
    words,
    at: instant,
  }),
  (state, body, { id, by, at_ms }) => {
    if (state.due.bases.length > 0)
      return refuse(
        "balanceAlreadyHeld",
        "at",
        body.at,
        "one opening balance; later steps are counters.stepped",
      );
    const ahead = body.done.find(({ on }) => isAhead(on, at_ms));
    if (ahead !== undefined) return refuse("doneInFuture", "done", ahead.on, `at most ${msToInstant(at_ms)}`);
    const said = { entry: id, by, at_ms: instantToMs(body.at) };
    return withDue(state, {
      bases: [{ ...said, counters: body.counters, why: body.words }],
      done: tasksDone(state.due.done, body.done, said),
      components: componentsFitted(state.due.components, body.components, [], said),
      obligations: obligationsSet(state.due.obligations, body.obligations, [], said),
    });
  },
  airworthiness,
);

const countersStepped = craftEntry(
  "counters.stepped",
  z.strictObject({ counters, why: words.min(1), at: instant, replaces }),
  (state, body, { id, by }) =>
    withDue(state, {
      bases: beside(state.due.bases, body.replaces, {
        entry: id,
        by,
        at_ms: instantToMs(body.at),
        counters: body.counters,
        why: body.why,
      }),
    }),
  airworthiness,
);

const taskDone = craftEntry(
  "task.done",
  z.strictObject({ ...done.shape, licence: z.string().min(1).max(80), at: instant }),
  (state, { at, licence: _licence, ...body }, { id, by, at_ms }) =>
    isAhead(body.on, at_ms)
      ? refuse("doneInFuture", "on", body.on, `at most ${msToInstant(at_ms)}`)
      : withDue(state, {
          done: tasksDone(state.due.done, [body], { entry: id, by, at_ms: instantToMs(at) }),
        }),
  [...maintainers, "crewMember", "pilot"],
);

const componentFitted = craftEntry(
  "component.fitted",
  z.strictObject({ ...fitted.shape, at: instant, replaces }),
  (state, { at, replaces: replaced, ...body }, { id, by }) =>
    withDue(state, {
      components: componentsFitted(state.due.components, [body], replaced, {
        entry: id,
        by,
        at_ms: instantToMs(at),
      }),
    }),
  maintainers,
);

const componentRemoved = craftEntry(
  "component.removed",
  z.strictObject({ component: sheetId, position: z.int().min(0).max(19), at: instant, replaces }),
  (state, { at, replaces: replaced, ...body }, { id, by }) => {
    const key = positionKey(body.component, body.position);
    return withDue(state, {
      components: {
        ...state.due.components,
        [key]: beside(own(state.due.components, key), replaced, {
          entry: id,
          by,
          at_ms: instantToMs(at),
          ...body,
        }),
      },
    });
  },
  maintainers,
);

const obligationSet = craftEntry(
  "obligation.set",
  z.strictObject({ ...obligation.shape, at: instant, replaces }),
  (state, { at, replaces: replaced, ...body }, { id, by }) =>
    withDue(state, {
      obligations: obligationsSet(state.due.obligations, [body], replaced, {
        entry: id,
        by,
        at_ms: instantToMs(at),
      }),
    }),
  maintainers,
);

function withStep(state: CraftState, finding: string, step: DeferralStep): CraftState | Refusal {
  const facts = own(state.findings, finding);
  if (facts === undefined)
    return refuse("findingNotRaised", "finding", finding, "a finding raised in this ledger");
  const next = { ...facts, deferralSteps: [...facts.deferralSteps, step] };
  return { ...state, findings: { ...state.findings, [finding]: next } };
}

const reference = z.string().max(60);

const deferralConfirmed = craftEntry(
  "deferral.confirmed",
  z.strictObject({
    finding: madeId,
    operational: z.boolean(),
    maintenance: z.string().min(1).max(80).nullable(),
    logPage: reference,
    workOrder: reference,
    at: instant,
  }),
  (state, { finding, at, ...body }, { id, by }) =>
    withStep(state, finding, { entry: id, by, at_ms: instantToMs(at), step: "confirmed", ...body }),
);

const deferralExtended = craftEntry(
  "deferral.extended",
  z.strictObject({
    finding: madeId,
    role: z.string().min(1).max(40),
    beyondControl: z.boolean(),
    authorityNotified: z.boolean(),
    planMade: z.boolean(),
    words: words.min(1),
    at: instant,
  }),
  (state, { finding, at, ...body }, { id, by }) =>
    withStep(state, finding, { entry: id, by, at_ms: instantToMs(at), step: "extended", ...body }),
  airworthiness,
);

const deferralReEntered = craftEntry(
  "deferral.reEntered",
  z.strictObject({ finding: madeId, firstRecorded: instant, words: words.min(1), at: instant }),
  (state, { finding, at, firstRecorded, words: said }, { id, by }) =>
    withStep(state, finding, {
      entry: id,
      by,
      at_ms: instantToMs(at),
      step: "reEntered",
      firstRecorded_ms: instantToMs(firstRecorded),
      words: said,
    }),
);

export const dueEntries = [
  balanceSigned,
  countersStepped,
  taskDone,
  componentFitted,
  componentRemoved,
  obligationSet,
  deferralConfirmed,
  deferralExtended,
  deferralReEntered,
] as const;
