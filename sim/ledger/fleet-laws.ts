// Laws 1, 2, 3 and 7 over histories that several devices recorded and exchanged for real (fleet.ts): scripts from plain numbers,
// and what speaks against a law in one of them. `broken` puts a mistake between the folded state and the assessment, so
// that it can be shown that each law is caught breaking.
import fc from "fast-check";
import { smallSheet } from "../../demo/sheet/small-sheet.ts";
import type { FindingFacts } from "../../src/core/facts/craft.ts";
import { hour_ms, minute_ms } from "../../src/core/facts/instant.ts";
import type { Reason } from "../../src/core/facts/reason.ts";
import { dawn_ms } from "../../src/ledger/craft/arbitrary-story.ts";
import { compareVerdicts, standingAt } from "../../src/core/standing/combine.ts";
import type { Fault } from "../sync/world.ts";
import { betterThan } from "./better.ts";
import { Fleet, people } from "./fleet.ts";
import type { Broken, Deed, ScriptLine } from "./fleet.ts";

const operations = smallSheet.operations.map(({ id }) => id);

const closureOf = (last: number): fc.Arbitrary<Deed> =>
  fc.record({
    kind: fc.constant("closure" as const),
    closure: fc.nat(last),
    state: fc.constantFrom("open" as const, "closed" as const),
  });
const closure = closureOf(1);
const custody = fc.record({
  kind: fc.constant("custody" as const),
  custody: fc.constantFrom("crew" as const, "maintenance" as const),
});
const judge = fc.record({ kind: fc.constant("judge" as const), finding: fc.nat(1), outcome: fc.nat(3) });
const mark = fc.record({
  kind: fc.constant("mark" as const),
  // Few, so that two devices come to the same one.
  item: fc.nat(1),
  mark: fc.constantFrom("good" as const, "finding" as const, "notReached" as const),
});
const reading = fc.record({
  kind: fc.constant("reading" as const),
  value: fc.constantFrom(1.9, 2, 2.5, 3, 3.1),
});
const flight = fc.record({
  kind: fc.constant("flight" as const),
  from_min: fc.integer({ min: 10, max: 40 }),
});
const raise = fc.record({ kind: fc.constant("raise" as const), finding: fc.nat(1) });
const event = fc.record({ kind: fc.constant("event" as const) });
const strange = fc.record({ kind: fc.constant("strange" as const) });

/**
 * Deeds of one matter, or of all. Of all alone, nearly every history would end in a craft that is not ready by several
 * matters, of which none could make it worse or better.
 */
const matter: fc.Arbitrary<fc.Arbitrary<Deed>> = fc.constantFrom<fc.Arbitrary<Deed>>(
  closureOf(0),
  custody,
  judge,
  fc.oneof(judge, raise),
  fc.oneof(custody, closure),
  mark,
  fc.oneof(reading, flight),
  fc.oneof(closure, custody, judge, mark, reading, flight, raise, event, strange),
);

const isAway = fc.nat(3).map((one) => one === 0);
const someAway = fc.tuple(isAway, isAway, isAway);

/**
 * Deeds on all devices; each device is without a network one time in four. `settles`: whoever has one exchanges to the end
 * after each deed. Half of them begin with two findings that were raised and accepted.
 */
export function scripts(longest: number, settles: boolean): fc.Arbitrary<readonly ScriptLine[]> {
  return matter.chain((deeds) => linesOf(deeds, longest, settles));
}

export function linesOf(
  deeds: fc.Arbitrary<Deed>,
  longest: number,
  settles: boolean,
): fc.Arbitrary<readonly ScriptLine[]> {
  const line = fc.record({
    device: fc.nat(people.length - 1),
    deed: deeds,
    ticks: fc.nat(settles ? 12 : 25),
    away: someAway,
    settles: fc.constant(settles),
  });
  return fc
    .tuple(fc.boolean(), fc.array(line, { maxLength: longest, size: "max" }))
    .map(([hasFindings, lines]) => [...(hasFindings ? accepted : []), ...lines]);
}

const accepted: readonly ScriptLine[] = [0, 1].flatMap((finding) =>
  [{ kind: "raise", finding } as const, { kind: "judge", finding, outcome: 0 } as const].map((each) => ({
    device: 0,
    deed: each,
    away: [false, false, false],
    ticks: 0,
    settles: true,
  })),
);

/** What came before, and what two devices then do apart. */
export function deedsApart(): fc.Arbitrary<
  readonly [readonly ScriptLine[], readonly Deed[], readonly Deed[]]
> {
  return matter.chain((deeds) => {
    const some = fc.array(deeds, { minLength: 1, maxLength: 2 });
    return fc.tuple(linesOf(deeds, 2, true), some, some);
  });
}

export type FleetWorld = {
  readonly seed: number;
  readonly allowed: readonly Fault[];
  readonly broken?: Broken;
};
type End = {
  readonly reasons: readonly Reason[];
  readonly hashes: ReadonlySet<string>;
  readonly fleet: Fleet;
};

/** The end of a history: everybody has heard of everything, the walk is ended, and it is the same instant for all. */
async function endOf(fleet: Fleet, end_ms: number): Promise<End> {
  await fleet.world.heal();
  await fleet.finish(end_ms - 30 * minute_ms);
  const hashes = fleet.hashes();
  const situation = fleet.situation(end_ms);
  return { reasons: fleet.reasons(0, situation), hashes, fleet };
}

async function begun({ seed, allowed, broken }: FleetWorld): Promise<Fleet> {
  const fleet = new Fleet(seed, allowed, broken);
  await fleet.start();
  return fleet;
}

function doneIn({ fleet }: End): string {
  return fleet.done.toSorted().join("\n");
}

function better(was: End, is: End, end_ms: number): readonly string[] {
  const times = { now_ms: end_ms, horizon_ms: end_ms + 72 * hour_ms };
  const apart = [was, is].flatMap(({ hashes }) =>
    hashes.size === 1 ? [] : ["the devices fold to different states"],
  );
  return [...apart, ...betterThan(was.reasons, is.reasons, operations, times)];
}

/** Law 7: whatever the exchange suffered, all devices and the server fold to one hash. */
export async function againstLaw7(
  lines: readonly ScriptLine[],
  world: FleetWorld,
): Promise<readonly string[]> {
  const fleet = await begun(world);
  await fleet.run(lines);
  const { hashes } = await endOf(fleet, fleet.now_ms + hour_ms);
  return [
    ...fleet.world.faultsWhenHealed(),
    ...(hashes.size === 1 ? [] : ["the devices fold to different states"]),
  ];
}

/** Law 1: with something set aside, or a finding that nobody has judged, no operation is ready. */
export async function againstLaw1(
  lines: readonly ScriptLine[],
  world: FleetWorld,
): Promise<readonly string[]> {
  const fleet = await begun(world);
  await fleet.run(lines);
  const end_ms = fleet.now_ms + hour_ms;
  const { reasons } = await endOf(fleet, end_ms);
  const { state, aside, waiting } = fleet.folded(0);
  const unjudged = Object.values(state.findings).filter(({ judgements }) => judgements.length === 0);
  if (aside.length + waiting.length + unjudged.length === 0) return [];
  return operations.flatMap((operation) => {
    const { verdict } = standingAt(reasons, operation, end_ms);
    return compareVerdicts(verdict, "notKnown") >= 0 ? [] : [`${operation} is ${verdict}`];
  });
}

/** A deed that says something worse in the same place; null where there is nothing worse to say. */
export function worsened(told: Deed, choice: number): Deed | null {
  if (told.kind === "judge")
    return told.outcome === 3 ? null : { ...told, outcome: told.outcome + 1 + (choice % (3 - told.outcome)) };
  if (told.kind === "closure") return told.state === "open" ? null : { ...told, state: "open" };
  if (told.kind === "custody")
    return told.custody === "maintenance" ? null : { ...told, custody: "maintenance" };
  if (told.kind === "mark")
    return told.mark === "good" ? { ...told, mark: choice % 2 === 0 ? "finding" : "notReached" } : null;
  return null;
}

/** Law 2: with one deed said worse, or one piece of bad news more, no standing is better once all have heard of all. */
export async function againstLaw2(
  lines: readonly ScriptLine[],
  at: number,
  choice: number,
  world: FleetWorld,
): Promise<readonly string[]> {
  if (lines.length === 0) return [];
  const place = at % lines.length;
  const line = lines[place]!;
  const worse = worsened(line.deed, choice);
  const news: Deed = choice % 2 === 0 ? { kind: "event" } : { kind: "raise", finding: 9 };
  const changed = worse === null ? lines : lines.with(place, { ...line, deed: worse });
  const ends: End[] = [];
  const end_ms = dawn_ms + (lines.length + 2) * minute_ms + hour_ms;
  for (const [index, told] of [lines, changed].entries()) {
    const fleet = await begun(world);
    await fleet.run(told.slice(0, place + 1));
    // Within the same minute, so that nothing else moves.
    if (index === 1 && worse === null) await fleet.add(line.device, news);
    await fleet.run(told.slice(place + 1));
    ends.push(await endOf(fleet, end_ms));
  }
  const [was, is] = ends as [End, End];
  // A deed that made sense in only one of both histories is more than the one that was changed.
  const inserted = worse === null ? 1 : 0;
  return was.fleet.done.length + inserted === is.fleet.done.length ? better(was, is, end_ms) : [];
}

/**
 * Law 3: what two devices recorded apart is, once both have heard of it, no better than had either known of what the other
 * recorded before.
 */
export async function againstLaw3(
  before: readonly ScriptLine[],
  one: readonly Deed[],
  other: readonly Deed[],
  world: FleetWorld,
): Promise<readonly string[]> {
  const end_ms = dawn_ms + (before.length + one.length + other.length + 2) * minute_ms + hour_ms;
  const sides = [
    { device: 0, deeds: one },
    { device: 1, deeds: other },
  ] as const;
  const told = async (order: readonly (0 | 1)[], knowing: boolean): Promise<End> => {
    const fleet = await begun(world);
    await fleet.run(before);
    await fleet.world.heal();
    const start_ms = fleet.now_ms;
    for (const side of order) {
      const { device, deeds } = sides[side];
      // Each deed at its own instant, whoever was first.
      fleet.now_ms = start_ms + (side === 0 ? 0 : one.length) * minute_ms;
      const away = people.map(() => true);
      await fleet.run(deeds.map((each) => ({ device, deed: each, ticks: 3, away, settles: false })));
      if (knowing) await fleet.world.heal();
    }
    return endOf(fleet, end_ms);
  };
  const apart = await told([0, 1], false);
  const against: string[] = [];
  for (const order of [
    [0, 1],
    [1, 0],
  ] as const) {
    const knowing = await told(order, true);
    // Who knew of the other's deed may have done what made no sense without it, or left what made none with it.
    if (doneIn(knowing) === doneIn(apart)) against.push(...better(knowing, apart, end_ms));
  }
  return against;
}

/** Mistakes between what was folded and the standing, each of which breaks the law that is named. */
export const brokenAssessments = {
  "looks over what stands aside": { law: 1, broken: (seen) => ({ ...seen, aside: [] }) },
  "forgets a finding that nobody has judged": {
    law: 1,
    broken: findingsOf(({ judgements }) => judgements.length > 0),
  },
  "lets an event stand for what was found with it": {
    law: 2,
    broken: ({ state, aside }) =>
      state.events.length === 0 ? { state, aside } : { state: { ...state, findings: {}, events: [] }, aside },
  },
  "takes a second opening of a closure for its closing": {
    law: 2,
    broken: ({ state, aside }) => {
      const closures = Object.entries(state.closures).filter(
        ([, facts]) => facts.filter((fact) => fact.state === "open").length < 2,
      );
      return { state: { ...state, closures: Object.fromEntries(closures) }, aside };
    },
  },
  "lets the latest word on a closure win": {
    law: 3,
    broken: ({ state, aside }) => ({ state: { ...state, closures: latest(state.closures) }, aside }),
  },
  "lets the latest judgement win": {
    law: 3,
    broken: ({ state, aside }) => {
      const findings = Object.entries(state.findings).map(
        ([id, facts]) => [id, { ...facts, judgements: facts.judgements.slice(-1) }] as const,
      );
      return { state: { ...state, findings: Object.fromEntries(findings) }, aside };
    },
  },
  "lets the latest mark win": {
    law: 3,
    broken: ({ state, aside }) => {
      const walks = Object.entries(state.walks).map(
        ([id, facts]) => [id, { ...facts, marks: latest(facts.marks) }] as const,
      );
      return { state: { ...state, walks: Object.fromEntries(walks) }, aside };
    },
  },
} as const satisfies Readonly<Record<string, { readonly law: 1 | 2 | 3; readonly broken: Broken }>>;

function findingsOf(isKept: (facts: FindingFacts) => boolean): Broken {
  return ({ state, aside }) => {
    const findings = Object.entries(state.findings).filter(([, facts]) => isKept(facts));
    return { state: { ...state, findings: Object.fromEntries(findings) }, aside };
  };
}

function latest<Fact>(
  all: Readonly<Record<string, readonly Fact[]>>,
): Readonly<Record<string, readonly Fact[]>> {
  return Object.fromEntries(Object.entries(all).map(([name, facts]) => [name, facts.slice(-1)]));
}
