// The fourteen months as they are told: enough of them, whole, what was found put right, and the leak where it is said to
// begin. Told once for the file: it takes seconds.
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { isClosed } from "../src/core/finding/judgement.ts";
import type { CraftState } from "../src/core/facts/craft.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import { nodeVerifier, sha256, signerFromSeed } from "../src/crypto/node.ts";
import { bytesOf, toHex } from "../src/ledger/crypto.ts";
import type { Verifier } from "../src/ledger/crypto.ts";
import type { StoredEntry } from "../src/ledger/entry.ts";
import { exportLines } from "../src/ledger/export.ts";
import { proveExport } from "../src/ledger/prove-export.ts";
import { craftLedger } from "../src/ledger/craft/craft-ledger.ts";
import { foldLedger, stateHash } from "../src/ledger/fold.ts";
import type { Folded } from "../src/ledger/fold.ts";
import { LedgerFold } from "../src/ledger/ledger-fold.ts";
import { reopenEntry } from "../src/ledger/open.ts";
import type { Opened } from "../src/ledger/open.ts";
import { writeNext } from "../src/ledger/write-next.ts";
import { operatorLedger } from "../src/ledger/operator/operator-ledger.ts";
import { demoCraft } from "./cast.ts";
import { demoLeak } from "./levels.ts";
import { makeDemo } from "./make-demo.ts";
import type { Demo } from "./make-demo.ts";
import { randomFrom } from "./random.ts";

const sheet = JSON.parse(readFileSync(new URL("sheet/quill.json", import.meta.url), "utf8")) as Sheet;
const anchor_ms = Date.parse("2026-11-25T08:40:00.000Z");
const day_ms = 24 * 3_600_000;

let demo: Demo;
let byLedger: Map<string, Opened[]>;
let craft: Map<string, Folded<CraftState>>;

beforeAll(async () => {
  demo = await makeDemo({ sheet, anchor_ms, span: "months" }, { sha256, signerFromSeed });
  byLedger = Map.groupBy(demo.entries.map(reopenEntry), ({ envelope }) => envelope.ledger);
  const [operator] = [...byLedger].filter(([ledger]) => ledger.startsWith("operator:"));
  const { trust } = foldLedger(operatorLedger, operator![1], operatorLedger.initial.trust).state;
  craft = new Map(
    demoCraft.map(({ ledger }) => [ledger, foldLedger(craftLedger, byLedger.get(ledger)!, trust)]),
  );
}, 400_000);

/** Remembers what it has verified: only so can a record of thousands be proven again and again. */
function rememberingVerifier(): Verifier {
  const known = new Map<string, Promise<boolean>>();
  return {
    sha256,
    verify(key, message, signature) {
      const name = `${key} ${toHex(message)} ${signature}`;
      const held = known.get(name) ?? nodeVerifier.verify(key, message, signature);
      known.set(name, held);
      return held;
    },
  };
}

/** An entry that names a photo, by a key of its own. */
async function naming(hash: string): Promise<StoredEntry> {
  const fold = new LedgerFold<object>({ initial: {}, types: [] }, [], operatorLedger.initial.trust);
  const body = { photos: [{ hash }] };
  const entry = {
    ledger: "craft:tinde",
    type: "photo.taken",
    body,
    by: "p-ravn",
    at_ms: anchor_ms,
    basis: {},
  };
  const signer = signerFromSeed(sha256(bytesOf("a camera")));
  return writeNext(fold, { ...entry, salt: "0".repeat(32) }, signer, sha256);
}

describe("The export of one craft's fourteen months", () => {
  test("is proven, and is not with a byte flipped at any of some random positions", async () => {
    const wanted = [...byLedger].filter(([ledger]) => /^operator:|tinde$/u.test(ledger));
    const entries = wanted.flatMap(([, held]) => held.map(({ stored }) => stored));
    const photo = bytesOf("the bytes of a photo ".repeat(50));
    entries.push(await naming(toHex(sha256(photo))));
    const lines = [...exportLines(entries, "2026-11-25T08:40:00.000Z", sha256, () => photo)];
    const verifier = rememberingVerifier();
    expect((await proveExport(lines, verifier, demo.root.key)).proven).toBe(true);
    const random = randomFrom(3);
    for (let flip = 0; flip < 5; flip += 1) {
      // The photo stands last but for the end.
      const at = flip === 0 ? lines.length - 2 : random.whole(0, lines.length - 1);
      const bytes = Buffer.from(lines[at]!);
      const position = random.whole(0, bytes.length - 1);
      bytes[position]! ^= 1 << random.whole(0, 7);
      const flipped = lines.with(at, bytes.toString("utf8"));
      const { proven } = await proveExport(flipped, verifier, demo.root.key);
      expect(proven, `byte ${position} of line ${at + 1}`).toBe(false);
    }
  }, 400_000);
});

describe("The fourteen months of the demo", () => {
  test("are tens of thousands of entries over more than 420 days, none of them aside", () => {
    expect(demo.entries.length).toBeGreaterThan(20_000);
    for (const { ordered, aside, waiting } of craft.values()) {
      expect([aside.length, waiting.length]).toEqual([0, 0]);
      expect(ordered.length).toBeGreaterThan(5_000);
      expect(anchor_ms - ordered[0]!.at_ms).toBeGreaterThan(420 * day_ms);
    }
  });

  test("fold from zero to the hashes to which the teller's own fold had grown", () => {
    expect([...craft].map(([ledger, folded]) => [ledger, stateHash(folded, sha256)])).toEqual([
      ...demo.stateHashes,
    ]);
  });

  test("hold flights, readings, uplifts, findings, deferrals, walks on paper, and walks that were interrupted", () => {
    for (const { state } of craft.values()) {
      const walks = Object.values(state.walks);
      const findings = Object.values(state.findings);
      expect(state.flights.length).toBeGreaterThan(400);
      expect(state.uplifts.length).toBeGreaterThan(10);
      expect(Object.values(state.readings).flat().length).toBeGreaterThan(2_000);
      expect(walks.filter(({ paper }) => paper).length).toBeGreaterThan(20);
      expect(walks.filter(({ interruptions }) => interruptions.length > 0).length).toBeGreaterThan(10);
      expect(findings.some(({ judgements }) => judgements.some(({ outcome }) => outcome === "defer"))).toBe(
        true,
      );
    }
  });

  test("leave open only what the last two weeks found", () => {
    const open = [...craft.values()].flatMap(({ state }) =>
      Object.values(state.findings).filter((finding) => !isClosed(sheet, finding)),
    );
    expect(open).toHaveLength(3);
    for (const { raised } of open) expect(anchor_ms - raised.at_ms).toBeLessThan(14 * day_ms);
  });

  test("fill the leaking engine more often from month eleven on, and no other", () => {
    const perHundredHours = (ledger: string, gauge: string, from: number, until: number): number => {
      const { state } = craft.get(ledger)!;
      const within = (at_ms: number): boolean => {
        const day = (at_ms - (anchor_ms - 426 * day_ms)) / day_ms;
        return from <= day && day < until;
      };
      const filled = state.uplifts.filter((uplift) => uplift.gauge === gauge && within(uplift.at_ms));
      const flown = state.flights.filter((flight) => within(flight.on_ms));
      const hours = flown.reduce((sum, { flight_h }) => sum + flight_h, 0);
      return (100 * filled.reduce((sum, { amount }) => sum + amount, 0)) / hours;
    };
    const [leaking] = demoCraft.filter(({ name }) => name === demoLeak.craft);
    const ratio = (ledger: string, gauge: string): number =>
      perHundredHours(ledger, gauge, demoLeak.fromDay, 426) /
      perHundredHours(ledger, gauge, 0, demoLeak.fromDay);
    expect(ratio(leaking!.ledger, demoLeak.gauge)).toBeGreaterThan(1.8);
    for (const { ledger } of demoCraft)
      for (const gauge of ["engineOilLeft", "engineOilRight"])
        if (ledger !== leaking!.ledger || gauge !== demoLeak.gauge)
          expect(ratio(ledger, gauge)).toBeLessThan(1.6);
  });
});
