// The standing of a craft with 40 open matters: 20 deferrals and 20 obligations on the invented Quill, warm.
// Peer: json-rules-engine, a general engine of rules as JSON, asked the same of the same matters: which operations does
// each matter take away now. Its rules are made once and kept, with the last days worked out beforehand by another way
// (whole days of 24 h, since the zone is UTC); ours are worked out once for the record, each with why, from when and until
// when, and kept with it (core/facts/kept.ts). The ratio of the budget is that of asking a record at hand, rules and reasons made;
// what a new record costs both, rules and reasons made anew, stands in a row of its own without a budget. Both answers are compared, matter by matter and operation by operation, at a hundred instants before
// anything is timed. Asked twice: for one instant, and for every change within three days, where the peer is told for
// nothing at which instants something changes.
import { Engine } from "json-rules-engine";
import type { RuleProperties } from "json-rules-engine";
import { quill } from "../demo/sheet/quill/quill.ts";
import { assessDue } from "../src/core/due/assess-due.ts";
import { based, deferred, said, situation } from "../src/core/due/due-cases.ts";
import type { CraftState } from "../src/core/facts/craft.ts";
import { hour_ms } from "../src/core/facts/instant.ts";
import type { Reason } from "../src/core/facts/reason.ts";
import type { Situation } from "../src/core/facts/situation.ts";
import { assessFindings } from "../src/core/finding/assess.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import { standingOf } from "../src/core/standing/assess.ts";
import type { Bench } from "./rows.ts";

const day_ms = 24 * hour_ms;
const start_ms = Date.UTC(2026, 1, 1);
const operations = quill.operations.map(({ id }) => id);
const days = { B: 3, C: 10, D: 120 } as const;

type Matter = {
  readonly id: string;
  readonly over_ms: number | null;
  readonly landings: number | null;
  readonly takesAway: readonly string[];
  readonly always: boolean;
};

const one = quill.deferrals[0]!;
const { takesAway: _takesAway, limits: _limits, ...plain } = one;

const list: Sheet["deferrals"] = Array.from({ length: 20 }, (_, index) => ({
  ...plain,
  id: `d${index}`,
  number: `${index}`,
  ata: String(21 + index),
  category: (["B", "C", "D"] as const)[index % 3]!,
  ...(index % 4 === 0 ? { takesAway: [operations[index % operations.length]!] } : {}),
}));
const sheet: Sheet = { ...quill, deferrals: list, programme: [], components: [] };

function told(): { state: CraftState; matters: readonly Matter[] } {
  const matters: Matter[] = [];
  const findings = list.map(({ id, category, takesAway }, index) => {
    const recorded_ms = start_ms - (index % 7) * day_ms + index * hour_ms;
    const finding = deferred(id, recorded_ms);
    const midnight_ms = Math.floor(recorded_ms / day_ms) * day_ms;
    const over_ms = midnight_ms + (days[category as "B"] + 1) * day_ms;
    matters.push({ id: finding.finding, over_ms, landings: null, takesAway: operations, always: false });
    if (takesAway !== undefined)
      matters.push({ id: finding.finding, over_ms: null, landings: null, takesAway, always: true });
    return finding;
  });
  const obligations = Array.from({ length: 20 }, (_, index) => {
    const isByDate = index % 2 === 0;
    const last_ms = start_ms + (index % 9) * day_ms;
    const takesAway = operations.slice(0, 1 + (index % operations.length));
    const id = `o${index}`;
    const landings = isByDate ? null : 95 + index;
    matters.push({ id, over_ms: isByDate ? last_ms + day_ms : null, landings, takesAway, always: false });
    return {
      ...said(),
      obligation: id,
      kind: "directive" as const,
      words: id,
      lastDay: isByDate ? new Date(last_ms).toISOString().slice(0, 10) : null,
      dueAt: landings === null ? {} : { landings },
      takesAway,
      settled: false,
    };
  });
  const craft = based(start_ms, { landings: 100 });
  const state: CraftState = {
    ...craft,
    findings: Object.fromEntries(findings.map((finding) => [finding.finding, finding])),
    due: {
      ...craft.due,
      obligations: Object.fromEntries(obligations.map((held) => [held.obligation, [held]])),
    },
  };
  return { state, matters };
}

function taken(reasons: readonly Reason[], now_ms: number): string[] {
  const found = new Set<string>();
  for (const { effect, from_ms, until_ms, operations: of, facts } of reasons) {
    if (effect !== "blocks" || (from_ms ?? now_ms) > now_ms || (until_ms ?? Infinity) <= now_ms) continue;
    for (const operation of of === "all" ? operations : of)
      found.add(`${String(facts["finding"] ?? facts["obligation"])} ${operation}`);
  }
  return [...found].toSorted();
}

function ruleOf({ id, over_ms, landings, takesAway, always }: Matter): RuleProperties {
  const at = (fact: string, value: number) => ({ fact, operator: "greaterThanInclusive", value });
  return {
    conditions: {
      any: [
        ...(always ? [at("landings", 0)] : []),
        ...(over_ms === null ? [] : [at("now_ms", over_ms)]),
        ...(landings === null ? [] : [at("landings", landings)]),
      ],
    },
    event: { type: id, params: { takesAway } },
  };
}

async function askPeer(engine: Engine, now_ms: number): Promise<string[]> {
  const { events } = await engine.run({ now_ms, landings: 100 });
  const found = new Set<string>();
  for (const { type, params } of events)
    for (const operation of (params as { takesAway: readonly string[] }).takesAway)
      found.add(`${type} ${operation}`);
  return [...found].toSorted();
}

const at = (now_ms: number): Situation => situation(now_ms, { zone: "UTC" });

const bench: Bench = async (size) => {
  const { state, matters } = told();
  const engine = new Engine(matters.map(ruleOf));
  const reasonsAt = (now_ms: number): Reason[] => {
    const asked = at(now_ms);
    return [...assessFindings(sheet, state, asked), ...assessDue(sheet, state, asked)];
  };
  const ask = (now_ms: number): string[] => taken(reasonsAt(now_ms), now_ms);
  const changesIn = (reasons: readonly Reason[], now_ms: number): number[] => {
    const instants = reasons.flatMap(({ from_ms, until_ms }) => [from_ms ?? now_ms, until_ms ?? now_ms]);
    const inside = instants.filter((instant) => now_ms < instant && instant < now_ms + 3 * day_ms);
    return [now_ms, ...new Set(inside)].toSorted((a, b) => a - b);
  };
  const askLine = (now_ms: number): string[][] => {
    const reasons = reasonsAt(now_ms);
    return changesIn(reasons, now_ms).map((instant) => taken(reasons, instant));
  };
  let differ = 0;
  let blocked = 0;
  for (let index = 0; index < 100; index += 1) {
    const now_ms = start_ms + index * 5 * hour_ms;
    const [ours, peers] = [ask(now_ms), await askPeer(engine, now_ms)];
    if (ours.join("\n") !== peers.join("\n")) differ += 1;
    blocked += ours.length;
  }
  const now_ms = start_ms + 2 * day_ms;
  const instants = changesIn(reasonsAt(now_ms), now_ms);
  const peerLine = async (): Promise<string[][]> => {
    const line: string[][] = [];
    for (const instant of instants) line.push(await askPeer(engine, instant));
    return line;
  };
  if (JSON.stringify(askLine(now_ms)) !== JSON.stringify(await peerLine())) differ += 1;
  if (differ > 0 || blocked === 0) throw new Error(`${differ} answers differ, ${blocked} lines in all`);

  const rounds = size === "tiny" ? 3 : 2000;
  const sky = { base: null, judge: null };
  const timed = async (run: () => unknown, count: number): Promise<number> => {
    for (let index = 0; index < count / 4; index += 1) await run();
    const begun = performance.now();
    for (let index = 0; index < count; index += 1) await run();
    return (performance.now() - begun) / count;
  };
  const whole = await timed(
    () => standingOf({ ...quill, deferrals: list }, state, at(now_ms), sky),
    rounds / 4,
  );
  // A record that nobody asked about before: the same facts in a new object.
  const first = await timed(() => {
    const asked = at(now_ms);
    const fresh = { ...state };
    return taken([...assessFindings(sheet, fresh, asked), ...assessDue(sheet, fresh, asked)], now_ms);
  }, rounds / 4);
  // The peer's rules hold the figures of their record: of a new one they are made anew, as our reasons are.
  const peerFirst = await timed(() => askPeer(new Engine(matters.map(ruleOf)), now_ms), rounds / 20);
  const once = await timed(() => ask(now_ms), rounds);
  const peerOnce = await timed(() => askPeer(engine, now_ms), rounds / 4);
  const line = await timed(() => askLine(now_ms), rounds);
  const peerWhole = await timed(peerLine, rounds / 20);
  return [
    {
      name: "standing of a craft with 40 open matters, warm",
      value: whole,
      unit: "ms",
      budget: 2,
      better: "lower",
    },
    {
      name: "what 40 matters of a record at hand take away now",
      value: once,
      unit: "ms",
      better: "lower",
      peer: { name: "json-rules-engine, its rules at hand", value: peerOnce },
    },
    {
      name: "what 40 matters of a new record take away, its reasons made and asked",
      value: first,
      unit: "ms",
      better: "lower",
      peer: { name: "json-rules-engine, its rules made and run", value: peerFirst },
    },
    {
      name: `… now and at ${instants.length - 1} changes in three days`,
      value: line,
      unit: "ms",
      better: "lower",
      peer: { name: "json-rules-engine", value: peerWhole },
    },
    {
      name: "… over json-rules-engine, both with the record at hand",
      value: peerWhole / line,
      unit: "×",
      budget: 20,
      better: "higher",
    },
  ];
};

export default bench;
