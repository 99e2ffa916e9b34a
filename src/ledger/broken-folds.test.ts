// Folds that are broken on purpose, each caught by the property that is named for it: so it is shown that the properties
// can fail. The true fold keeps them all, over the same histories.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { arrivals, overHistories } from "../../sim/ledger/arrivals.ts";
import { begun_ms, keys, revoking, server, testLedger, trust } from "../../sim/ledger/world.ts";
import type { TestState } from "../../sim/ledger/world.ts";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256 } from "../crypto/node.ts";
import type { Trust } from "./acceptance.ts";
import type { Envelope } from "./entry.ts";
import { foldLedger, stateHash } from "./fold.ts";
import type { Folded } from "./fold.ts";
import type { Opened } from "./open.ts";
import { parentsOf } from "./order.ts";
import type { ReceiptBody } from "./system-entries.ts";

/** In: entries as they arrived, each perhaps twice. */
type Folding = (arrived: readonly Opened[]) => Folded<TestState>;

const lost = keys["p-two"].key;
const believed = revoking(lost, begun_ms + 120_000);
const fold = (arrived: readonly Opened[], trusted: Trust = believed): Folded<TestState> =>
  foldLedger(testLedger, arrived, trusted);

const withEnvelope = (entry: Opened, change: Partial<Envelope>): Opened => {
  const envelope = { ...entry.envelope, ...change };
  return { ...entry, envelope, at_ms: Date.parse(envelope.at) };
};
const isKnown = ({ envelope: { type, tv } }: Opened): boolean =>
  tv === 1 && !["slot.weighed", "slot.shown"].includes(type);

const broken = {
  "takes entries as they arrive": (arrived) =>
    fold(
      arrived.map((entry, at) =>
        withEnvelope(entry, { after: [], prev: null, seq: entry.envelope.seq, at: msToInstant(at) }),
      ),
    ),
  "goes by the clocks of the devices alone": (arrived) =>
    fold(arrived.map((entry) => withEnvelope(entry, { after: [], prev: null }))),
  "ignores receipts": (arrived) => {
    const { [server.key]: _, ...others } = believed.certificates;
    return fold(arrived, { ...believed, certificates: others });
  },
  "drops what it does not understand": (arrived) => {
    const known = new Set(arrived.filter(isKnown).map(({ id }) => id));
    const kept = ({ envelope: { after, prev } }: Opened): Partial<Envelope> => ({
      after: after.filter((id) => known.has(id)),
      prev: prev !== null && known.has(prev) ? prev : null,
    });
    return fold(arrived.filter(isKnown).map((entry) => withEnvelope(entry, kept(entry))));
  },
  "lets the first of a fork count": (arrived) => {
    const first = new Map<string, string>();
    return fold(
      arrived.filter(({ id, envelope }) => {
        const place = `${envelope.key} ${envelope.seq}`;
        if (!first.has(place)) first.set(place, id);
        return first.get(place) === id;
      }),
    );
  },
  "ignores revocations": (arrived) => fold(arrived, trust),
  "keeps the last copy of an entry, with or without its body": (arrived) => {
    const last = new Map(arrived.map((entry, at) => [entry.id, at % 3 === 0 ? bare(entry) : entry]));
    return fold([...last.values()]);
  },
  "ignores what an entry replaces": (arrived) =>
    fold(
      arrived.map((entry) =>
        entry.envelope.type === "slot.set" && entry.body !== undefined
          ? { ...entry, body: { ...(entry.body as SlotSet), replaces: [] } }
          : entry,
      ),
    ),
  "lets the latest win where two recorded apart": (arrived) => {
    const folded = fold(arrived);
    const slots = Object.entries(folded.state.slots).map(([slot, facts]) => [slot, facts.slice(-1)]);
    return { ...folded, state: { ...folded.state, slots: Object.fromEntries(slots) as TestState["slots"] } };
  },
  "goes on from a checkpoint that a late entry has overtaken": (arrived) => {
    const { admissions } = fold(arrived);
    const { checkpoints } = fold(arrived.slice(0, Math.ceil(arrived.length / 2)));
    return foldLedger(testLedger, arrived, believed, { admissions, checkpoints });
  },
} satisfies Readonly<Record<string, Folding>>;

type SlotSet = { readonly slot: string; readonly value: number; readonly replaces: readonly string[] };

const bare = (entry: Opened): Opened => ({ ...entry, body: undefined, erased: true });

const standingIn = ({ slots }: TestState): ReadonlySet<string> =>
  new Set(Object.values(slots).flatMap((facts) => facts.map(({ entry }) => entry)));

function slotsSet(entries: readonly Opened[]): readonly { readonly id: string; readonly set: SlotSet }[] {
  return entries.flatMap(({ id, envelope, body }) =>
    envelope.type === "slot.set" && body !== undefined ? [{ id, set: body as SlotSet }] : [],
  );
}

/** Each returns what speaks against the fold: nothing for a true one. */
const properties = {
  "the same entries in any order of arrival give the same hash": (folding, entries, seed) => {
    const [one, other] = [arrivals(entries, seed), arrivals(entries, seed + 1)].map((batches) =>
      stateHash(folding(batches.flat()), sha256),
    );
    return one === other ? [] : ["hash"];
  },
  "no entry is told before its parents": (folding, entries) => {
    const { told } = folding(entries).state;
    const place = new Map(told.map((id, at) => [id, at]));
    return entries
      .filter((entry) => parentsOf(entry).some((parent) => place.get(parent)! > place.get(entry.id)!))
      .map(({ id }) => id);
  },
  "no entry is told that the server refused": (folding, entries) => {
    const refused = entries
      .filter(({ envelope }) => envelope.type === "receipt")
      .flatMap(({ body }) => (body as ReceiptBody).entries.filter(({ verdict }) => verdict === "refused"));
    const told = new Set(folding(entries).state.told);
    return refused.map(({ id }) => id).filter((id) => told.has(id));
  },
  "every critical entry that is not understood leaves a doubt": (folding, entries) => {
    const { aside, noted } = folding(entries);
    const seen = new Set([...aside.map(({ id }) => id), ...noted]);
    return entries.filter((entry) => !isKnown(entry) && !seen.has(entry.id)).map(({ id }) => id);
  },
  "both sides of a fork that nobody decided leave a doubt": (folding, entries) => {
    const { statuses } = folding(entries);
    const decided = new Set(
      entries.flatMap(({ envelope, body }) =>
        ["fork.decided", "aside.settled"].includes(envelope.type)
          ? JSON.stringify(body).match(/[0-9a-f]{64}/gu)
          : [],
      ),
    );
    const places = Map.groupBy(entries, ({ envelope }) => `${envelope.key} ${envelope.seq}`);
    return [...places.values()]
      .filter((sides) => sides.length > 1 && sides.every(({ id }) => !decided.has(id)))
      .flat()
      .filter(({ id }) => statuses.get(id) !== "fork")
      .map(({ id }) => id);
  },
  "nothing is told by a revoked key that has no receipt": (folding, entries) => {
    const received = new Set(
      entries.flatMap(({ envelope, body }) =>
        envelope.type === "receipt" ? (body as ReceiptBody).entries.map(({ id }) => id) : [],
      ),
    );
    const told = new Set(folding(entries).state.told);
    return entries
      .filter(({ id, envelope }) => envelope.key === lost && !received.has(id) && told.has(id))
      .map(({ id }) => id);
  },
  "what an entry replaces does not stand beside it": (folding, entries) => {
    const { state } = folding(entries);
    const [told, standing] = [new Set(state.told), standingIn(state)];
    return slotsSet(entries)
      .filter(({ id }) => told.has(id))
      .flatMap(({ set }) => set.replaces.filter((id) => standing.has(id)));
  },
  "what nobody has replaced stands": (folding, entries) => {
    const { state } = folding(entries);
    const [told, standing] = [new Set(state.told), standingIn(state)];
    const all = slotsSet(entries).filter(({ id }) => told.has(id));
    const replaced = new Set(all.flatMap(({ set }) => set.replaces));
    return all.map(({ id }) => id).filter((id) => !replaced.has(id) && !standing.has(id));
  },
  "going on from checkpoints is folding from zero": (folding, entries) =>
    stateHash(folding(entries), sha256) === stateHash(fold(entries), sha256) ? [] : ["hash"],
} satisfies Readonly<
  Record<string, (folding: Folding, entries: readonly Opened[], seed: number) => readonly string[]>
>;

async function held(name: keyof typeof properties, folding: Folding): Promise<boolean> {
  const { failed, errorInstance } = await fc.check(
    overHistories(45, (entries, seed) => {
      const against = properties[name](folding, entries, seed);
      if (against.length > 0) throw new Error(`${against.length} entries speak against it`);
    }),
    { numRuns: 60, seed: 31, endOnFailure: true },
  );
  // A fold that falls over has not been caught by the property.
  if (failed && !String(errorInstance).includes("speak against it")) throw errorInstance;
  return !failed;
}

describe("the true fold", () => {
  test.each(Object.keys(properties) as (keyof typeof properties)[])("keeps: %s", async (name) => {
    expect(await held(name, (arrived) => fold(arrived))).toBe(true);
  });
});

describe("a fold that", () => {
  const caught: Readonly<Record<keyof typeof broken, keyof typeof properties>> = {
    "takes entries as they arrive": "the same entries in any order of arrival give the same hash",
    "goes by the clocks of the devices alone": "no entry is told before its parents",
    "ignores receipts": "no entry is told that the server refused",
    "drops what it does not understand": "every critical entry that is not understood leaves a doubt",
    "lets the first of a fork count": "both sides of a fork that nobody decided leave a doubt",
    "ignores revocations": "nothing is told by a revoked key that has no receipt",
    "ignores what an entry replaces": "what an entry replaces does not stand beside it",
    "lets the latest win where two recorded apart": "what nobody has replaced stands",
    "goes on from a checkpoint that a late entry has overtaken":
      "going on from checkpoints is folding from zero",
    "keeps the last copy of an entry, with or without its body":
      "the same entries in any order of arrival give the same hash",
  };
  test.each(Object.entries(caught) as [keyof typeof broken, keyof typeof properties][])(
    "%s is caught by: %s",
    async (name, property) => {
      expect(await held(property, broken[name])).toBe(false);
    },
  );
});
