// Makes the demo whole: the operator, the keys, the certificates, and the history of the three craft, every entry signed
// with keys that follow from a published seed. Same anchor, same bytes. An operator's own server refuses these keys.
import { canonicalText } from "../src/ledger/canonical.ts";
import { bytesOf, hashText } from "../src/ledger/crypto.ts";
import type { Digest, Signer } from "../src/ledger/crypto.ts";
import { baseLedger } from "../src/ledger/base/base-ledger.ts";
import { craftLedger } from "../src/ledger/craft/craft-ledger.ts";
import type { StoredEntry } from "../src/ledger/entry.ts";
import { foldLedger, stateHash } from "../src/ledger/fold.ts";
import { LedgerFold } from "../src/ledger/ledger-fold.ts";
import { isOpened, openEntry } from "../src/ledger/open.ts";
import { operatorLedger } from "../src/ledger/operator/operator-ledger.ts";
import { writeNext } from "../src/ledger/write-next.ts";
import { hour_ms, msToInstant } from "../src/core/facts/instant.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import { demoBase, demoCraft, demoOperator, demoPeople } from "./cast.ts";
import type { DemoSpan } from "./cast.ts";
import { crewStory } from "./crew.ts";
import { tellHistory } from "./history.ts";
import type { Telling } from "./history.ts";
import { loggedDays } from "./levels.ts";
import { tellMonths } from "./months.ts";
import { randomFrom } from "./random.ts";
import { fuelStory } from "./base-fuel.ts";
import { baseStory } from "./weather.ts";

export const demoSeed = 20_260;
export const demoDays = 14;

export type DemoCrypto = {
  readonly sha256: Digest;
  readonly signerFromSeed: (seed: Uint8Array) => Signer;
};

/** The seed of a demo key: anybody can make it, and so nobody may trust it. */
export function demoKeySeed(name: string, sha256: Digest): Uint8Array {
  return sha256(bytesOf(`preen demo key of ${name}, worth nothing`));
}

export const demoKeyNames = ["operator", "server", ...demoPeople.map(({ id }) => id)] as const;

export type Demo = {
  /** In an order in which each entry's parents come first. */
  readonly entries: readonly StoredEntry[];
  readonly root: Signer;
  readonly server: Signer;
  /** What each craft's ledger folds to; receipts change no state. */
  readonly stateHashes: ReadonlyMap<string, string>;
};

/** The demo told until `anchor_ms`. */
export async function makeDemo(
  {
    sheet,
    anchor_ms,
    span = "fortnight",
  }: { readonly sheet: Sheet; readonly anchor_ms: number; readonly span?: DemoSpan },
  { sha256, signerFromSeed }: DemoCrypto,
): Promise<Demo> {
  const signerOf = (name: string): Signer => signerFromSeed(demoKeySeed(name, sha256));
  const [root, server] = [signerOf("operator"), signerOf("server")];
  const signers = new Map(demoPeople.map(({ id }) => [id, signerOf(id)]));
  const sheetHash = hashText(sha256, canonicalText(sheet));
  const random = randomFrom(demoSeed);
  const entries: StoredEntry[] = [];
  // Papers, people's rules and the weather's limits are of the last weeks; a record of months has older entries besides.
  const lately_ms = anchor_ms - (demoDays + 30) * 24 * hour_ms;
  const begun_ms = span === "months" ? lately_ms - loggedDays * 24 * hour_ms : lately_ms;

  const open = (stored: StoredEntry) => {
    const opened = openEntry(stored, sha256);
    if (!isOpened(opened))
      throw new Error(`the demo wrote an entry that cannot be opened: ${JSON.stringify(opened)}`);
    entries.push(stored);
    return opened;
  };

  const operator = new LedgerFold(operatorLedger, [], operatorLedger.initial.trust);
  const byOperator = async (
    signer: Signer,
    by: string,
    type: string,
    body: unknown,
    from_ms = begun_ms,
  ): Promise<void> => {
    const at_ms = from_ms + entries.length * 1_000;
    const next = { ledger: demoOperator.id, type, body, by, at_ms, basis: {}, salt: random.hex(32) };
    operator.add([open(await writeNext(operator, next, signer, sha256))]);
  };
  const at = msToInstant(begun_ms);
  await byOperator(root, "operator", "operator.opened", { name: demoOperator.name, root: root.key, at });
  const certify = (key: string, person: string, roles: readonly string[]) =>
    byOperator(root, "operator", "key.certified", { key, person, roles, from: at, until: null });
  await certify(server.key, "server", ["server"]);
  for (const { id, roles } of demoPeople) await certify(signers.get(id)!.key, id, roles);
  const administrator = signers.get("p-vik")!;
  await byOperator(administrator, "p-vik", "settings.set", {
    zone: demoBase.zone,
    exchangeLimit_min: 240,
    replaces: [],
  });
  const { id: base, name, lat_deg, lon_deg, elevation_m } = demoBase;
  await byOperator(administrator, "p-vik", "base.described", {
    base,
    name,
    lat_deg,
    lon_deg,
    elevation_m,
    replaces: [],
  });
  await byOperator(signers.get("p-sund")!, "p-sund", "sheet.released", {
    sheet: sheetHash,
    name: sheet.type.name,
    revision: sheet.revision,
    holdsFrom: at,
    preparedBy: "p-brekke",
    replaces: [],
  });
  const said = msToInstant(lately_ms);
  for (const { type, body } of crewStory(lately_ms, anchor_ms))
    await byOperator(administrator, "p-vik", type, { ...body, at: said, replaces: [] }, lately_ms);
  assertWhole("operator", operator.folded.aside);

  const trust = foldLedger(operatorLedger, operator.folded.ordered, operatorLedger.initial.trust).state.trust;
  const folds = new Map(
    demoCraft.map(({ ledger }) => [
      ledger,
      new LedgerFold(craftLedger, [], trust, null, { keepsStates: false }),
    ]),
  );
  const foldOf = (ledger: string) => {
    const fold = folds.get(ledger);
    if (fold === undefined) throw new Error(`no craft of the demo has the ledger ${ledger}`);
    return fold;
  };
  const telling: Telling = {
    sheet,
    sheetHash,
    anchor_ms,
    seed: demoSeed,
    days: demoDays,
    scribe: {
      state: (ledger) => foldOf(ledger).folded.state,
      hash: (value) => hashText(sha256, canonicalText(value)),
      async write({ by, ledger, type, at_ms, body, sheet: sheetUsed }) {
        const signer = signers.get(by);
        if (signer === undefined) throw new Error(`nobody of the demo is called ${by}`);
        const fold = foldOf(ledger);
        const next = { ledger, type, body, by, at_ms, basis: { sheet: sheetUsed }, salt: random.hex(32) };
        fold.add([open(await writeNext(fold, next, signer, sha256))]);
      },
    },
  };
  await tellHistory(telling, span === "months" ? await tellMonths(telling) : null);
  for (const [ledger, fold] of folds) assertWhole(ledger, fold.folded.aside);
  const ofBase = new LedgerFold(baseLedger, [], trust);
  // A chance of its own: the weather changes no byte of the rest.
  const skyRandom = randomFrom(demoSeed + 700);
  const fuelRandom = randomFrom(demoSeed + 800);
  const taken = [...folds.values()].flatMap(({ folded }) => folded.state.fuelFilled);
  const story = [
    ...baseStory(begun_ms + hour_ms, anchor_ms, skyRandom).map((told) => ({ told, chance: skyRandom })),
    ...fuelStory(begun_ms + 2 * hour_ms, anchor_ms, taken, fuelRandom).map((told) => ({
      told,
      chance: fuelRandom,
    })),
  ].toSorted((a, b) => a.told.at_ms - b.told.at_ms);
  for (const { told, chance } of story) {
    const { by, body, ...rest } = told;
    const written = typeof body === "function" ? body(ofBase.folded.state) : body;
    const next = { ledger: base, by, ...rest, body: written, basis: {}, salt: chance.hex(32) };
    const signer = by === "server" ? server : signers.get(by)!;
    ofBase.add([open(await writeNext(ofBase, next, signer, sha256))]);
  }
  assertWhole(base, ofBase.folded.aside);
  const stateHashes = new Map([...folds].map(([ledger, { folded }]) => [ledger, stateHash(folded, sha256)]));
  return { entries, root, server, stateHashes };
}

function assertWhole(ledger: string, aside: readonly unknown[]): void {
  if (aside.length > 0)
    throw new Error(`the demo's ${ledger} has entries aside: ${JSON.stringify(aside.slice(0, 3))}`);
}
