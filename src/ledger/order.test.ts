import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { arrivals, overHistories, someOf } from "../../sim/ledger/arrivals.ts";
import { begun_ms, entryOf, keys, withoutBody } from "../../sim/ledger/world.ts";
import { msToInstant } from "../core/facts/instant.ts";
import type { Opened } from "./open.ts";
import { headsOf, orderEntries, parentsOf } from "./order.ts";

const ids = (entries: readonly Opened[]): string[] => entries.map(({ id }) => id);

const namedBy = ({ envelope: { after, prev } }: Opened): readonly (string | null)[] => [...after, prev];

/** The rule as it is written down, without any haste: of all that may go next, the earliest, then the smallest id. */
function plainOrder(entries: readonly Opened[]): string[] {
  const left = new Map(entries.map((entry) => [entry.id, entry]));
  const placed = new Set<string>();
  for (;;) {
    const [next] = [...left.values()]
      .filter((entry) => namedBy(entry).every((parent) => parent === null || placed.has(parent)))
      .sort((a, b) =>
        a.envelope.at === b.envelope.at ? (a.id < b.id ? -1 : 1) : a.envelope.at < b.envelope.at ? -1 : 1,
      );
    if (next === undefined) return [...placed];
    placed.add(next.id);
    left.delete(next.id);
  }
}

describe("the order of a ledger", () => {
  test("is the one that the rule gives, whatever arrives in whatever order and however often", async () => {
    let waited = 0;
    await fc.assert(
      overHistories(60, (entries, seed) => {
        const held = someOf(entries, seed);
        const { ordered, waiting } = orderEntries(arrivals(held, seed).flat());
        expect(ids(ordered)).toEqual(plainOrder(held));
        expect(new Set([...ids(ordered), ...ids(waiting)])).toEqual(new Set(ids(held)));
        expect(ordered.length + waiting.length).toBe(held.length);
        waited += waiting.length;
      }),
      { numRuns: 150, seed: 11 },
    );
    expect(waited).toBeGreaterThan(500);
  });

  test("keeps every parent before its children", async () => {
    await fc.assert(
      overHistories(60, (entries) => {
        const { ordered } = orderEntries(entries);
        const place = new Map(ordered.map(({ id }, at) => [id, at]));
        for (const entry of ordered)
          for (const parent of parentsOf(entry)) expect(place.get(parent)).toBeLessThan(place.get(entry.id)!);
      }),
      { numRuns: 60, seed: 12 },
    );
  });

  test("never moves a known entry relative to another when more arrive", async () => {
    await fc.assert(
      overHistories(60, (entries, seed) => {
        const before = ids(orderEntries(someOf(entries, seed)).ordered);
        const known = new Set(before);
        const after = ids(orderEntries(entries).ordered);
        expect(after.filter((id) => known.has(id))).toEqual(before);
      }),
      { numRuns: 150, seed: 13 },
    );
  });

  test("lets an entry without its parent wait, with all that hangs on it, until the parent is there", async () => {
    const first = await entryOf(keys["p-one"], { body: { slot: "a", value: 1, replaces: [] } });
    const second = await entryOf(keys["p-one"], { body: {}, seq: 1, prev: first.id, after: [first.id] });
    const third = await entryOf(keys["p-two"], { body: {}, after: [second.id] });
    const apart = await entryOf(keys["p-four"], { body: {} });
    const without = orderEntries([third, apart, second]);
    expect(ids(without.ordered)).toEqual([apart.id]);
    expect(new Set(ids(without.waiting))).toEqual(new Set([second.id, third.id]));
    const withIt = orderEntries([third, apart, second, first]);
    expect(withIt.waiting).toEqual([]);
    expect(ids(withIt.ordered)).toContain(third.id);
  });

  test("lets a circle wait that somebody made up, and whatever hangs on it", async () => {
    const [one, two, three, free] = await Promise.all(
      [1, 2, 3, 4].map((value) => entryOf(keys["p-one"], { body: { value } })),
    );
    const under = (entry: Opened, ...after: string[]): Opened => ({
      ...entry,
      envelope: { ...entry.envelope, after },
    });
    const { ordered, waiting } = orderEntries([
      under(one!, two!.id),
      under(two!, one!.id),
      under(three!, one!.id, free!.id),
      free!,
    ]);
    expect(ids(ordered)).toEqual([free!.id]);
    expect(new Set(ids(waiting))).toEqual(new Set(ids([one!, two!, three!])));
    expect(ids(orderEntries([under(free!, free!.id)]).waiting)).toEqual([free!.id]);
  });

  test("takes the copy that has a body, in whichever order the copies came", async () => {
    const entry = await entryOf(keys["p-one"], { body: { value: 1 } });
    for (const copies of [
      [entry, withoutBody(entry)],
      [withoutBody(entry), entry],
    ])
      expect(orderEntries(copies).ordered).toEqual([entry]);
  });
});

describe("the heads of a ledger", () => {
  test("are the entries that none names, none an ancestor of another, and every entry is one or comes before one", async () => {
    await fc.assert(
      overHistories(60, (entries) => {
        const { ordered } = orderEntries(entries);
        const heads = headsOf(ordered);
        const byId = new Map(ordered.map((entry) => [entry.id, entry]));
        const covered = new Set<string>();
        for (const head of heads) {
          const before = ancestorsOf(head, byId);
          expect(heads.filter((other) => before.has(other))).toEqual([]);
          for (const id of [head, ...before]) covered.add(id);
        }
        expect(covered.size).toBe(ordered.length);
        expect(heads).toEqual([...new Set(heads)].sort());
      }),
      { numRuns: 60, seed: 14 },
    );
  });

  test("are at most 32, the latest of those that stand side by side", async () => {
    const many = await Promise.all(
      Array.from({ length: 40 }, (_, at) =>
        entryOf(keys["p-one"], { body: { at }, at: msToInstant(begun_ms + at) }),
      ),
    );
    const heads = headsOf(orderEntries(many).ordered);
    expect(new Set(heads)).toEqual(new Set(ids(many.slice(8))));
  });

  test("of nothing are none", () => {
    expect(headsOf([])).toEqual([]);
  });
});

function ancestorsOf(id: string, byId: ReadonlyMap<string, Opened>): ReadonlySet<string> {
  const found = new Set<string>();
  const next = [...parentsOf(byId.get(id)!)];
  for (let parent = next.pop(); parent !== undefined; parent = next.pop()) {
    if (found.has(parent)) continue;
    found.add(parent);
    next.push(...parentsOf(byId.get(parent)!));
  }
  return found;
}
