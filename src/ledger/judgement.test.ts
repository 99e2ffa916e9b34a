import { describe, expect, test } from "vitest";
import {
  Device,
  begun_ms,
  blankSigner,
  entryOf,
  keys,
  receiptFor,
  revoking,
  root,
  server,
  systemBody,
  testLedger,
  trust,
  withoutBody,
} from "../../sim/ledger/world.ts";
import type { Person, TestState, Written } from "../../sim/ledger/world.ts";
import { sha256 } from "../crypto/node.ts";
import type { Trust } from "./acceptance.ts";
import { foldLedger, stateHash } from "./fold.ts";
import type { EntryStatus, Folded } from "./fold.ts";
import type { Opened } from "./open.ts";

const minute = 60_000;
const device = (person: Person): Device => new Device(keys[person], person);
const theServer = (): Device => new Device(server, "server");

function set(who: Device, value: number, change: Written = {}, at_ms = begun_ms): Promise<Opened> {
  return who.write("slot.set", { slot: "a", value, replaces: [] }, at_ms, change);
}

function folded(entries: readonly Opened[], believed: Trust = trust): Folded<TestState> {
  return foldLedger(testLedger, entries, believed);
}

function status(entry: Opened, entries: readonly Opened[], believed: Trust = trust): EntryStatus | undefined {
  return folded(entries, believed).statuses.get(entry.id);
}

const told = (entry: Opened, entries: readonly Opened[], believed: Trust = trust): boolean =>
  folded(entries, believed).state.told.includes(entry.id);

describe("an entry", () => {
  test("counts while it has no receipt, and when the server accepted it", async () => {
    const entry = await set(device("p-one"), 1);
    expect(status(entry, [entry])).toBe("pending");
    expect(told(entry, [entry])).toBe(true);
    const receipt = await receiptFor(theServer(), [entry], begun_ms + minute);
    expect(status(entry, [receipt, entry])).toBe("accepted");
    expect(told(entry, [receipt, entry])).toBe(true);
    expect(folded([receipt, entry]).receipts.get(entry.id)).toMatchObject({
      receivedAt_ms: begun_ms + minute,
    });
  });

  test("stands aside when the server refused it, tells nothing, and makes a doubt that is in the hash", async () => {
    const entry = await set(device("p-one"), 1);
    const receipt = await receiptFor(theServer(), [entry], begun_ms, new Set([entry.id]));
    const both = folded([entry, receipt]);
    expect(both.statuses.get(entry.id)).toBe("refused");
    expect(both.state).toEqual(testLedger.initial);
    expect(both.aside).toMatchObject([
      { id: entry.id, type: "slot.set", code: "refused", by: "p-one", at_ms: begun_ms },
    ]);
    expect(stateHash(both, sha256)).not.toBe(stateHash(folded([receipt]), sha256));
  });

  test("of the server's contradicting receipts obeys the refusal, whichever came first", async () => {
    const entry = await set(device("p-one"), 1);
    const one = theServer();
    const accepting = await receiptFor(one, [entry], begun_ms);
    const refusing = await receiptFor(one, [entry], begun_ms + minute, new Set([entry.id]));
    expect(status(entry, [entry, accepting, refusing])).toBe("refused");
    expect(status(entry, [refusing, accepting, entry])).toBe("refused");
  });

  test("of a key without a certificate stands aside, and so does one in another person's name", async () => {
    const stranger = await set(new Device(keys.stranger, "p-one"), 1);
    expect(status(stranger, [stranger])).toBe("uncertified");
    const borrowed = await set(new Device(keys["p-one"], "p-four"), 1);
    expect(status(borrowed, [borrowed])).toBe("uncertified");
  });

  test("counts from the certificate's first instant to before its last, by what it claims", async () => {
    const [held] = trust.certificates[keys["p-one"].key]!;
    const short: Trust = {
      ...trust,
      certificates: { [keys["p-one"].key]: [{ ...held!, from_ms: begun_ms, until_ms: begun_ms + minute }] },
    };
    const at = async (at_ms: number): Promise<EntryStatus | undefined> => {
      const entry = await set(device("p-one"), 1, {}, at_ms);
      return status(entry, [entry], short);
    };
    expect(await at(begun_ms - 1)).toBe("outOfCertificate");
    expect(await at(begun_ms)).toBe("pending");
    expect(await at(begun_ms + minute - 1)).toBe("pending");
    expect(await at(begun_ms + minute)).toBe("outOfCertificate");
  });

  test("needs its role in a certificate that holds at that instant, not in one that has run out", async () => {
    const [held] = trust.certificates[keys["p-two"].key]!;
    const late: Trust = {
      ...trust,
      certificates: {
        [keys["p-two"].key]: [
          { ...held!, roles: ["engineer"], until_ms: begun_ms - 1 },
          { ...held!, roles: ["pilot"] },
        ],
      },
    };
    const engineer = device("p-two");
    const opening = await set(engineer, 1);
    const closing = await engineer.write("slot.closed", { slot: "a" }, begun_ms);
    expect(status(closing, [opening, closing])).toBe("pending");
    expect(status(closing, [opening, closing], late)).toBe("roleMissing");
    expect(status(opening, [opening, closing], late)).toBe("pending");
    const pilot = device("p-one");
    const unasked = await pilot.write("slot.closed", { slot: "a" }, begun_ms);
    expect(status(unasked, [opening, unasked])).toBe("roleMissing");
  });

  test("needs its role in its author's own certificate, where one key is made out to two people", async () => {
    const [ofTwo] = trust.certificates[keys["p-two"].key]!;
    const [ofFour] = trust.certificates[keys["p-four"].key]!;
    const shared: Trust = {
      ...trust,
      certificates: { [keys["p-two"].key]: [ofTwo!, { ...ofFour!, key: keys["p-two"].key }] },
    };
    const opening = await set(device("p-two"), 1);
    const closing = await new Device(keys["p-two"], "p-four").write("slot.closed", { slot: "a" }, begun_ms, {
      seq: 1,
      prev: opening.id,
    });
    expect(status(opening, [opening, closing], shared)).toBe("pending");
    expect(status(closing, [opening, closing], shared)).toBe("roleMissing");
  });

  test("of the operator's own key needs no certificate and no role, and no server refuses it", async () => {
    const one = new Device(root, "operator");
    const opening = await set(one, 1);
    const closing = await one.write("slot.closed", { slot: "a" }, begun_ms);
    expect(status(closing, [opening, closing])).toBe("pending");
    const refusal = await receiptFor(theServer(), [closing], begun_ms, new Set([closing.id]));
    expect(told(closing, [opening, closing, refusal])).toBe(true);
  });

  test("stands aside when its body has another shape, makes no sense, or fells its reducer, and folds nothing", async () => {
    const one = device("p-two");
    const shapeless = await one.write("slot.set", { slot: "z", value: 1, replaces: [] }, begun_ms);
    const senseless = await one.write("slot.closed", { slot: "b" }, begun_ms);
    const after = await set(one, 3);
    const { aside, state } = folded([shapeless, senseless, after]);
    expect(aside).toMatchObject([
      { id: shapeless.id, code: "schema", detail: expect.stringContaining('slot: found "z"') as string },
      { id: senseless.id, code: "senseless", detail: expect.stringContaining("slotNeverSet") as string },
    ]);
    expect(state.told).toEqual([after.id]);
    const felled = foldLedger(
      {
        ...testLedger,
        types: testLedger.types.map((kind) => ({
          ...kind,
          fold: () => {
            throw new Error("a mistake of ours");
          },
        })),
      },
      [shapeless, senseless, after],
      trust,
    );
    const doubt = { code: "senseless", detail: "a mistake of ours" };
    expect(felled.aside).toMatchObject([doubt, doubt, doubt]);
  });

  test("of a type that nobody here knows stands aside when critical, else is only shown; a newer version always aside", async () => {
    const one = device("p-one");
    const critical = await one.write("slot.weighed", { any: 1 }, begun_ms);
    const other = await one.write("slot.shown", { any: 1 }, begun_ms, { critical: false });
    const newer = await set(one, 1, { tv: 2, critical: false });
    const all = [critical, other, newer];
    expect(all.map((entry) => status(entry, all))).toEqual(["unknownType", "noted", "newerVersion"]);
    expect(folded(all).aside.map(({ id }) => id)).toEqual([critical.id, newer.id]);
    expect(folded(all).ordered.map(({ stored }) => stored)).toEqual(all.map(({ stored }) => stored));
  });

  test("whose parent is missing stands aside with all that hangs on it", async () => {
    const one = device("p-one");
    const [first, second, third] = [await set(one, 1), await set(one, 2), await set(one, 3)];
    const { aside, state, statuses } = folded([second, third]);
    expect(aside.map(({ code }) => code)).toEqual(["missingParent", "missingParent"]);
    expect(state.told).toEqual([]);
    expect([...statuses.values()]).toEqual(["missingParent", "missingParent"]);
    expect(folded([third, second, first]).state.told).toEqual([first.id, second.id, third.id]);
  });

  test("that goes on from another key's entry, or leaves out a place of its chain, stands aside", async () => {
    const one = device("p-one");
    const first = await set(one, 1);
    const foreign = await entryOf(keys["p-two"], {
      body: { slot: "a", value: 2, replaces: [] },
      by: "p-two",
      seq: 1,
      prev: first.id,
    });
    expect(status(foreign, [first, foreign])).toBe("chainBroken");
    const gap = await set(one, 3, { seq: 5, prev: first.id });
    expect(status(gap, [first, gap])).toBe("chainBroken");
  });
});

describe("a revoked key", () => {
  const lost = keys["p-one"].key;

  test("tells what was received before the revocation, and nothing that was received at it or after", async () => {
    const one = device("p-one");
    const entry = await set(one, 1);
    const [before, at] = await Promise.all(
      [begun_ms + minute - 1, begun_ms + minute].map((at_ms) => receiptFor(theServer(), [entry], at_ms)),
    );
    const believed = revoking(lost, begun_ms + minute);
    expect(status(entry, [entry, before!], believed)).toBe("accepted");
    expect(status(entry, [entry, at!], believed)).toBe("revoked");
  });

  test("tells nothing that has no receipt yet, however early it claims to be", async () => {
    const entry = await set(device("p-one"), 1, {}, begun_ms - 60 * minute);
    expect(status(entry, [entry])).toBe("pending");
    expect(status(entry, [entry], revoking(lost, begun_ms + 60 * minute))).toBe("revoked");
  });

  test("of a server leaves pending what it receipted, unless another server key vouched for the receipt in time", async () => {
    const old = theServer();
    const entry = await set(device("p-one"), 1);
    const receipt = await receiptFor(old, [entry], begun_ms, new Set([entry.id]));
    const newKey = blankSigner("second server");
    const [held] = trust.certificates[server.key]!;
    const both: Trust = {
      ...trust,
      certificates: { ...trust.certificates, [newKey.key]: [{ ...held!, key: newKey.key }] },
    };
    const believed = revoking(server.key, begun_ms + minute, both);
    const vouch = (at_ms: number): Promise<Opened> =>
      receiptFor(new Device(newKey, "server"), [receipt], at_ms);
    expect(status(entry, [entry, receipt], both)).toBe("refused");
    expect(status(entry, [entry, receipt], believed)).toBe("pending");
    expect(status(entry, [entry, receipt, await vouch(begun_ms + 1)], believed)).toBe("refused");
    expect(status(entry, [entry, receipt, await vouch(begun_ms + minute)], believed)).toBe("pending");
  });
});

describe("a receipt", () => {
  test("of anybody but a certified server changes nothing and stands aside", async () => {
    const entry = await set(device("p-one"), 1);
    for (const person of ["p-two", "p-three"] as const) {
      const forged = await receiptFor(device(person), [entry], begun_ms, new Set([entry.id]));
      expect(status(entry, [entry, forged])).toBe("pending");
      expect(status(forged, [entry, forged])).toBe("roleMissing");
    }
    const stranger = await receiptFor(new Device(keys.stranger, "server"), [entry], begun_ms);
    expect(status(entry, [entry, stranger])).toBe("pending");
    expect(status(stranger, [entry, stranger])).toBe("uncertified");
  });

  test("of another shape or version says nothing and stands aside", async () => {
    const entry = await set(device("p-one"), 1);
    const one = theServer();
    const line = { id: entry.id, receivedAt: "2026-01-01T06:00:00.000Z", verdict: "refused", code: null };
    const shapeless = await one.write("receipt", { entries: [{ ...line, extra: 1 }] }, begun_ms);
    const newer = await one.write("receipt", { entries: [line] }, begun_ms, { tv: 2 });
    const all = [entry, shapeless, newer];
    expect(all.map((each) => status(each, all))).toEqual(["pending", "schema", "newerVersion"]);
  });
});

describe("a fork", () => {
  async function fork(): Promise<readonly [left: Opened, right: Opened]> {
    const left = await set(device("p-one"), 1);
    return [left, await set(new Device(keys["p-one"], "p-one"), 2)];
  }

  test("keeps both sides aside and readable until an administrator says which counts", async () => {
    const [left, right] = await fork();
    expect([left, right].map((entry) => status(entry, [left, right]))).toEqual(["fork", "fork"]);
    expect(folded([left, right]).ordered.map(({ body }) => body)).toContainEqual({
      slot: "a",
      value: 2,
      replaces: [],
    });
    const decision = await device("p-three").write(
      "fork.decided",
      systemBody("fork.decided", left.id),
      begun_ms,
    );
    const all = [left, right, decision];
    expect(all.map((entry) => status(entry, all))).toEqual(["pending", "noted", "pending"]);
    expect(folded(all).state.told).toEqual([left.id]);
    expect(folded(all).aside).toEqual([]);
  });

  test("is not decided by a pilot, by a forked decision, or by one that the server refused", async () => {
    const [left, right] = await fork();
    const body = systemBody("fork.decided", left.id);
    const pilots = await device("p-two").write("fork.decided", body, begun_ms);
    expect(status(left, [left, right, pilots])).toBe("fork");
    expect(status(pilots, [left, right, pilots])).toBe("roleMissing");
    const decision = await device("p-three").write("fork.decided", body, begun_ms);
    const copy = await device("p-three").write(
      "fork.decided",
      systemBody("fork.decided", right.id),
      begun_ms,
    );
    expect(status(left, [left, right, decision, copy])).toBe("fork");
    const refusal = await receiptFor(theServer(), [decision], begun_ms, new Set([decision.id]));
    expect(status(left, [left, right, decision, refusal])).toBe("fork");
  });

  test("decided both ways by two people lets both stand side by side", async () => {
    const [left, right] = await fork();
    const one = await device("p-three").write("fork.decided", systemBody("fork.decided", left.id), begun_ms);
    const other = new Device(root, "operator");
    const two = await other.write("fork.decided", systemBody("fork.decided", right.id), begun_ms);
    expect(new Set(folded([left, right, one, two]).state.told)).toEqual(new Set([left.id, right.id]));
  });

  test("is one also while a side waits for its parent", async () => {
    const [left] = await fork();
    const waits = await set(new Device(keys["p-one"], "p-one"), 3, { after: ["a".repeat(64)] });
    expect(status(left, [left, waits])).toBe("fork");
  });
});

describe("what stands aside", () => {
  async function settled(entry: Opened, by: Device = device("p-three")): Promise<Opened> {
    return by.write("aside.settled", systemBody("aside.settled", entry.id), begun_ms);
  }

  test("is no doubt any more once an administrator has settled it, and still tells nothing", async () => {
    const entry = await set(device("p-one"), 1);
    const refusal = await receiptFor(theServer(), [entry], begun_ms, new Set([entry.id]));
    const all = [entry, refusal, await settled(entry)];
    expect(status(entry, all)).toBe("noted");
    expect(folded(all).aside).toEqual([]);
    expect(folded(all).state.told).toEqual([]);
  });

  test("is not settled by a pilot", async () => {
    const entry = await set(new Device(keys.stranger, "p-one"), 1);
    const all = [entry, await settled(entry, device("p-two"))];
    expect(status(entry, all)).toBe("uncertified");
    expect(folded(all).aside.map(({ code }) => code)).toEqual(["uncertified", "roleMissing"]);
  });

  test("may be settled while its parent is missing, and counts all the same when the parent comes", async () => {
    const one = device("p-one");
    const [first, second] = [await set(one, 1), await set(one, 2)];
    const settling = await settled(second);
    expect(status(second, [second, settling])).toBe("noted");
    expect(folded([second, settling]).aside).toEqual([]);
    expect(status(second, [first, second, settling])).toBe("pending");
  });

  test("cannot be settled where only this program does not understand it: a newer one counts it", async () => {
    const one = device("p-one");
    const unknown = await one.write("slot.weighed", {}, begun_ms);
    const newer = await set(one, 1, { tv: 2 });
    const all = [unknown, newer, await settled(unknown), await settled(newer, new Device(root, "operator"))];
    expect([unknown, newer].map((entry) => status(entry, all))).toEqual(["unknownType", "newerVersion"]);
  });

  test("does not come to stand aside by being settled", async () => {
    const entry = await set(device("p-one"), 1);
    const all = [entry, await settled(entry)];
    expect(status(entry, all)).toBe("pending");
    expect(told(entry, all)).toBe(true);
  });
});

describe("an erasure", () => {
  const erase = (entry: Opened, by: Device = device("p-three")): Promise<Opened> =>
    by.write("erase", systemBody("erase", entry.id), begun_ms);

  test("folds alike on a device that still has the body and on one that has not, and is a doubt until settled", async () => {
    const one = device("p-one");
    const [entry, next] = [await set(one, 1), await set(one, 2)];
    const erasure = await erase(entry);
    const holding = folded([entry, next, erasure]);
    const bare = folded([withoutBody(entry), next, erasure]);
    expect(holding.statuses.get(entry.id)).toBe("erased");
    expect(stateHash(holding, sha256)).toBe(stateHash(bare, sha256));
    expect([...holding.erased]).toEqual([entry.id]);
    expect(holding.state.told).toEqual([next.id]);
    const settling = await device("p-three").write(
      "aside.settled",
      systemBody("aside.settled", entry.id),
      begun_ms,
      { seq: 1, prev: erasure.id },
    );
    expect(folded([entry, next, erasure, settling]).aside).toEqual([]);
  });

  test("needs the role, and the role that it names", async () => {
    const entry = await set(device("p-one"), 1);
    const pilots = await erase(entry, device("p-two"));
    expect(status(entry, [entry, pilots])).toBe("pending");
    const body = { entry: entry.id, role: "airworthiness", legalReason: "asked for" };
    const wrongRole = await device("p-three").write("erase", body, begun_ms);
    expect(status(wrongRole, [entry, wrongRole])).toBe("roleMissing");
    expect(status(entry, [entry, wrongRole])).toBe("pending");
    expect([...folded([entry, wrongRole]).erased]).toEqual([]);
  });

  test("touches no entry that speaks about others", async () => {
    const entry = await set(device("p-one"), 1);
    const refusal = await receiptFor(theServer(), [entry], begun_ms, new Set([entry.id]));
    const all = [entry, refusal, await erase(refusal)];
    expect(status(entry, all)).toBe("refused");
    expect([...folded(all).erased]).toEqual([]);
  });

  test("that never was leaves a body that is missing a doubt", async () => {
    const entry = await set(device("p-one"), 1);
    expect(status(entry, [withoutBody(entry)])).toBe("erased");
    expect([...folded([withoutBody(entry)]).erased]).toEqual([]);
  });
});

describe("the newest instant", () => {
  test("is not given by an entry that does not count, whatever it claims", async () => {
    const entry = await set(device("p-one"), 1);
    const mad = await set(new Device(keys.stranger, "p-one"), 2, {}, begun_ms + 1e12);
    expect(folded([entry, mad]).newest_ms).toBe(begun_ms);
    expect(folded([]).newest_ms).toBe(null);
  });
});
