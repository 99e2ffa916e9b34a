import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { arrivalSeed, arrivals } from "../../../sim/ledger/arrivals.ts";
import { begun_ms, blankSigner, entryOf } from "../../../sim/ledger/world.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { sha256 } from "../../crypto/node.ts";
import { noTrust } from "../acceptance.ts";
import { canonicalText } from "../canonical.ts";
import type { Signer } from "../crypto.ts";
import { foldLedger, stateHash } from "../fold.ts";
import type { Folded } from "../fold.ts";
import { LedgerFold } from "../ledger-fold.ts";
import type { Opened } from "../open.ts";
import { operatorLedger, settingsInForce } from "./operator-ledger.ts";
import type { OperatorState } from "./operator-ledger.ts";

const minute = 60_000;
const signers = {
  root: blankSigner("root"),
  server: blankSigner("server"),
  second: blankSigner("second server"),
  admin: blankSigner("admin"),
  pilot: blankSigner("pilot"),
  thief: blankSigner("thief"),
} as const;
type Name = keyof typeof signers;
const people: Readonly<Record<Name, string>> = {
  root: "operator",
  server: "server",
  second: "server",
  admin: "p-admin",
  pilot: "p-pilot",
  thief: "p-admin",
};

/** Writes an operator's ledger entry by entry; every entry follows all before it unless told otherwise. */
class Office {
  readonly entries: Opened[] = [];
  readonly #fold = new LedgerFold(operatorLedger, [], noTrust);
  #minutes = 0;

  async write(
    by: Name,
    type: string,
    body: unknown,
    { at_ms, after }: { readonly at_ms?: number; readonly after?: readonly Opened[] } = {},
  ): Promise<Opened> {
    this.#minutes += 1;
    const signer: Signer = signers[by];
    const last = this.#fold.lastOf(signer.key);
    const entry = await entryOf(signer, {
      ledger: "operator:test",
      type,
      body,
      by: people[by],
      at: msToInstant(at_ms ?? begun_ms + this.#minutes * minute),
      seq: last === undefined ? 0 : last.seq + 1,
      prev: last?.id ?? null,
      after: after === undefined ? this.#fold.folded.heads : after.map(({ id }) => id).sort(),
    });
    this.#fold.add([entry]);
    this.entries.push(entry);
    return entry;
  }

  open(by: Name = "root", root = signers[by].key, at_ms = begun_ms): Promise<Opened> {
    const body = { name: "Testfjord Air", root, at: msToInstant(at_ms) };
    return this.write(by, "operator.opened", body, { at_ms });
  }

  certify(by: Name, whom: Name, roles: readonly string[]): Promise<Opened> {
    const from = msToInstant(begun_ms - 1_000 * minute);
    const body = { key: signers[whom].key, person: people[whom], roles, from, until: null };
    return this.write(by, "key.certified", body);
  }

  revoke(by: Name, whom: Name, at_ms: number): Promise<Opened> {
    return this.write(by, "key.revoked", { key: signers[whom].key, why: "lost", at: msToInstant(at_ms) });
  }

  settings(
    by: Name,
    exchangeLimit_min: number,
    replaces: readonly Opened[] = [],
    zone = "UTC",
  ): Promise<Opened> {
    return this.write(by, "settings.set", {
      zone,
      exchangeLimit_min,
      replaces: replaces.map(({ id }) => id),
    });
  }

  receipt(by: Name, entries: readonly Opened[], at_ms: number, verdict = "accepted"): Promise<Opened> {
    const receivedAt = msToInstant(at_ms);
    const lines = entries.map(({ id }) => ({ id, receivedAt, verdict, code: null }));
    return this.write(by, "receipt", { entries: lines });
  }

  folded(trust = noTrust): Folded<OperatorState> {
    return foldLedger(operatorLedger, this.entries, trust);
  }

  status(entry: Opened, trust = noTrust): string | undefined {
    return this.folded(trust).statuses.get(entry.id);
  }
}

/** Opened, a server certified by the root, an administrator and a pilot by the server. */
async function office(): Promise<Office> {
  const made = new Office();
  await made.open();
  await made.certify("root", "server", ["server"]);
  await made.certify("server", "admin", ["administrator"]);
  await made.certify("server", "pilot", ["pilot"]);
  return made;
}

describe("the trust of an operator", () => {
  test("comes from the root by the server to everybody", async () => {
    const made = await office();
    await made.settings("admin", 60);
    const { aside, state, believed } = made.folded();
    expect(aside).toEqual([]);
    expect(believed.root).toBe(signers.root.key);
    expect(Object.keys(state.trust.certificates)).toHaveLength(3);
    expect(state.trust).toEqual(believed);
    expect(settingsInForce(state)).toEqual({ zone: "UTC", exchangeLimit_min: 60 });
  });

  test("is not given by anybody else: neither server keys by a server, nor any key by an administrator", async () => {
    const made = await office();
    const byServer = await made.certify("server", "second", ["server"]);
    const byAdmin = await made.certify("admin", "thief", ["administrator"]);
    const byThief = await made.certify("thief", "thief", ["administrator"]);
    const ofRoot = await made.certify("server", "root", ["pilot"]);
    expect([byServer, byAdmin, byThief, ofRoot].map((entry) => made.status(entry))).toEqual([
      "senseless",
      "roleMissing",
      "uncertified",
      "senseless",
    ]);
    expect(made.folded().state.trust.certificates[signers.thief.key]).toBeUndefined();
  });

  test("is what the ledger says in the end, in whatever order it arrives", async () => {
    const made = await office();
    await made.certify("root", "second", ["server"]);
    const set = await made.settings("admin", 60);
    await made.receipt("server", [set], begun_ms + 30 * minute);
    await made.revoke("second", "pilot", begun_ms + 40 * minute);
    await made.revoke("root", "second", begun_ms + 50 * minute);
    await made.certify("second", "thief", ["administrator"]);
    await made.settings("admin", 30, [set]);
    const whole = made.folded();
    expect(whole.state.trust).toEqual(whole.believed);
    await fc.assert(
      fc.asyncProperty(arrivalSeed, async (seed) => {
        const fold = new LedgerFold(operatorLedger, [], noTrust);
        for (const batch of arrivals(made.entries, seed)) fold.add(batch);
        expect(stateHash(fold.folded, sha256)).toBe(stateHash(whole, sha256));
        expect(canonicalText(fold.folded.believed)).toBe(canonicalText(whole.believed));
      }),
      { numRuns: 100, seed: 41 },
    );
  });

  test("does not come from a forged opening that claims to be older: of two roots neither is believed", async () => {
    const made = await office();
    const forged = await made.open("thief", signers.thief.key, begun_ms - 1_000 * minute);
    expect(made.folded().believed).toEqual(noTrust);
    expect(made.folded().aside.length).toBe(made.entries.length);
    // Who knows the root is not deceived.
    const pinned = { ...noTrust, root: signers.root.key };
    expect(made.status(forged, pinned)).toBe("uncertified");
    expect(made.folded(pinned).aside.map(({ id }) => id)).toEqual([forged.id]);
    expect(made.folded(pinned).state.opened?.name).toBe("Testfjord Air");
  });

  test("does not come from an opening that names another key than its own, or from none", async () => {
    const made = new Office();
    const forged = await made.open("thief", signers.root.key);
    expect(made.status(forged)).toBe("uncertified");
    expect(made.folded().believed.root).toBe(null);
    expect(foldLedger(operatorLedger, [], noTrust).believed).toEqual(noTrust);
  });

  test("does not come from an opening by the root that names another key", async () => {
    const made = new Office();
    const odd = await made.open("root", signers.thief.key);
    const pinned = { ...noTrust, root: signers.root.key };
    expect(made.status(odd, pinned)).toBe("senseless");
    expect(made.folded(pinned).believed.root).toBe(signers.root.key);
  });

  test("is opened once", async () => {
    const made = await office();
    const again = await made.open();
    expect(made.status(again)).toBe("senseless");
    expect(made.folded().state.opened?.at_ms).toBe(begun_ms);
  });
});

describe("a revocation in the operator's ledger", () => {
  test("reaches an entry that claims to be older and to know nothing of it", async () => {
    const made = await office();
    const certified = made.entries.slice();
    await made.revoke("server", "admin", begun_ms + 20 * minute);
    const backdated = await made.write(
      "admin",
      "settings.set",
      { zone: "UTC", exchangeLimit_min: 10_000, replaces: [] },
      { at_ms: begun_ms + 5 * minute, after: [certified.at(-1)!] },
    );
    expect(made.folded().ordered.indexOf(backdated)).toBeLessThan(made.folded().ordered.length - 1);
    expect(made.status(backdated)).toBe("revoked");
    expect(settingsInForce(made.folded().state)).toBe(null);
  });

  test("leaves what the server had received before", async () => {
    const made = await office();
    const set = await made.settings("admin", 60);
    await made.receipt("server", [set], begun_ms + 10 * minute);
    await made.revoke("server", "admin", begun_ms + 20 * minute);
    expect(made.status(set)).toBe("accepted");
  });

  test("of a server's key, or of the root, is the root's alone", async () => {
    const made = await office();
    await made.certify("root", "second", ["server"]);
    const ofServer = await made.revoke("second", "server", begun_ms + 20 * minute);
    const ofRoot = await made.revoke("server", "root", begun_ms + 20 * minute);
    const byAdmin = await made.revoke("admin", "pilot", begun_ms + 20 * minute);
    const byRoot = await made.revoke("root", "second", begun_ms + 20 * minute);
    expect([ofServer, ofRoot, byAdmin, byRoot].map((entry) => made.status(entry))).toEqual([
      "revoked",
      "senseless",
      "roleMissing",
      "pending",
    ]);
  });

  test("of a server's key stops what that key writes, also the certificates that it gave without a receipt", async () => {
    const made = await office();
    await made.certify("root", "second", ["server"]);
    const given = await made.certify("second", "thief", ["administrator"]);
    const used = await made.settings("thief", 10_000);
    expect([given, used].map((entry) => made.status(entry))).toEqual(["pending", "pending"]);
    await made.revoke("root", "second", begun_ms + 60 * minute);
    expect([given, used].map((entry) => made.status(entry))).toEqual(["revoked", "uncertified"]);
  });

  test("is spared a key that only ran out: what it wrote before counts, and nothing that it writes after", async () => {
    const made = await office();
    await made.certify("root", "second", ["server"]);
    const gives = (at_ms: number): Promise<Opened> => {
      const from = msToInstant(begun_ms);
      const body = { key: signers.thief.key, person: people.thief, roles: ["pilot"], from, until: null };
      return made.write("second", "key.certified", body, { at_ms });
    };
    const ends = (by: Name, at_ms: number): Promise<Opened> =>
      made.write(by, "key.ranOut", { key: signers.second.key, until: msToInstant(at_ms) });
    const before = await gives(begun_ms + 30 * minute);
    const byServer = await ends("server", begun_ms + 20 * minute);
    await ends("root", begun_ms + 40 * minute);
    // A later end does not lengthen it again.
    await ends("root", begun_ms + 90 * minute);
    const after = await gives(begun_ms + 40 * minute);
    expect([before, byServer, after].map((entry) => made.status(entry))).toEqual([
      "pending",
      "senseless",
      "outOfCertificate",
    ]);
  });

  test("holds from the earlier instant of two", async () => {
    const made = await office();
    await made.revoke("server", "pilot", begun_ms + 20 * minute);
    await made.revoke("server", "pilot", begun_ms + 10 * minute);
    expect(made.folded().state.trust.revocations[signers.pilot.key]?.at_ms).toBe(begun_ms + 10 * minute);
  });

  test("is neither refused by the server nor erased by an administrator", async () => {
    const made = await office();
    const revocation = await made.revoke("root", "pilot", begun_ms + 20 * minute);
    await made.receipt("server", [revocation], begun_ms + 21 * minute, "refused");
    await made.write("admin", "erase", {
      entry: revocation.id,
      role: "administrator",
      legalReason: "asked for",
    });
    expect(made.status(revocation)).toBe("accepted");
    expect(made.folded().state.trust.revocations[signers.pilot.key]).toBeDefined();
    expect([...made.folded().erased]).toEqual([]);
    await made.write("root", "erase", {
      entry: made.entries[3]!.id,
      role: "administrator",
      legalReason: "asked for",
    });
    expect(made.status(made.entries[3]!)).toBe("erased");
  });
});

describe("settings and sheets", () => {
  test("set apart by two people hold at their strictest, and no zone is known when they differ", async () => {
    const made = await office();
    const one = await made.settings("admin", 60);
    await made.settings("admin", 240);
    expect(settingsInForce(made.folded().state)).toEqual({ zone: "UTC", exchangeLimit_min: 60 });
    await made.settings("admin", 30, [], "Europe/Oslo");
    expect(settingsInForce(made.folded().state)).toBe(null);
    const { settings } = made.folded().state;
    await made.settings(
      "admin",
      120,
      made.entries.filter(({ id }) => settings.some(({ entry }) => entry === id)),
    );
    expect(settingsInForce(made.folded().state)).toEqual({ zone: "UTC", exchangeLimit_min: 120 });
    expect(made.status(one)).toBe("pending");
  });

  test("are an administrator's, in a zone that there is", async () => {
    const made = await office();
    const byPilot = await made.settings("pilot", 60);
    const nowhere = await made.settings("admin", 60, [], "Nowhere/Land");
    expect([byPilot, nowhere].map((entry) => made.status(entry))).toEqual(["roleMissing", "schema"]);
  });

  test("a sheet is released by another person than the one who prepared it", async () => {
    const made = await office();
    const release = (preparedBy: string): Promise<Opened> =>
      made.write("admin", "sheet.released", {
        sheet: "a".repeat(64),
        name: "Quill",
        revision: "3",
        holdsFrom: msToInstant(begun_ms),
        preparedBy,
        replaces: [],
      });
    const own = await release("p-admin");
    const others = await release("p-pilot");
    expect([own, others].map((entry) => made.status(entry))).toEqual(["senseless", "pending"]);
    expect(made.folded().state.sheets.map(({ entry }) => entry)).toEqual([others.id]);
  });
});
