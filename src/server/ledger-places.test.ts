import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { headsOf, orderEntries } from "../ledger/order.ts";
import { reopenEntry } from "../ledger/open.ts";
import type { Opened } from "../ledger/open.ts";
import { LedgerPlaces } from "./ledger-places.ts";

const idOf = (n: number): string => n.toString(16).padStart(64, "0");

/** An entry in form only: number, its key, its parents by number. */
function entry(
  n: number,
  key: number,
  seq: number,
  after: readonly number[],
  prev: number | null = null,
): Opened {
  const envelope = {
    v: 1,
    ledger: "craft:a",
    type: "t",
    tv: 1,
    key: idOf(key),
    seq,
    prev: prev === null ? null : idOf(prev),
    at: "2031-04-01T06:40:00.000Z",
    by: "p",
    after: after.map(idOf).toSorted(),
    critical: true,
    basis: {},
    bodyHash: idOf(0),
  };
  return reopenEntry({ id: idOf(n), envelope: JSON.stringify(envelope), sig: "", salt: null, body: null });
}

function placesOf(entries: readonly Opened[]): LedgerPlaces {
  const places = new LedgerPlaces();
  for (const opened of entries) places.add(opened);
  return places;
}

/** Up to 40 entries, each naming some earlier ones, in any order of arrival, some missing. */
const ledger = fc
  .array(fc.array(fc.nat(39), { maxLength: 3 }), { minLength: 1, maxLength: 40 })
  .map((named) =>
    named.map((after, n) => entry(n, n % 3, n, [...new Set(after.filter((parent) => parent < n))])),
  )
  .chain((entries) => fc.shuffledSubarray(entries, { minLength: 1 }));

describe("Where a ledger stands", () => {
  test("has the heads that ordering the whole gives, whatever came when and whatever is missing", () => {
    fc.assert(
      fc.property(ledger, (entries) => {
        const wanted = headsOf(orderEntries(entries).ordered);
        if (wanted.length < 32) expect(placesOf(entries).heads()).toEqual(wanted);
      }),
      { numRuns: 500 },
    );
  });

  test("names no more heads than an entry may, sorted", () => {
    const heads = placesOf(Array.from({ length: 50 }, (_, n) => entry(n, n, 0, []))).heads();
    expect(heads.length).toBe(32);
    expect(heads).toEqual(heads.toSorted());
  });

  test("knows the newest of each key and where one forked", () => {
    const [first, second, other] = [entry(1, 7, 0, []), entry(2, 7, 1, [1], 1), entry(3, 7, 1, [1], 1)];
    const places = placesOf([first, second]);
    expect(places.newestOf(idOf(7))).toEqual({ id: second.id, seq: 1 });
    expect(places.newestOf(idOf(8))).toBeUndefined();
    expect([first, second].map((opened) => places.isFork(opened))).toEqual([false, false]);
    expect(places.isFork(other)).toBe(true);
    places.add(other);
    places.add(other);
    expect([second, other].map((opened) => places.isFork(opened))).toEqual([true, true]);
  });
});
