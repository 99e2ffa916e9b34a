// The fold of a ledger as a store holds it: from the snapshot that is kept beside the entries and only what came after it,
// or from all entries. A snapshot that is damaged, of another fold, or not of what the store holds is thrown away.
import type { Trust } from "../ledger/acceptance.ts";
import type { Digest } from "../ledger/crypto.ts";
import type { LedgerId } from "../ledger/entry.ts";
import { stateHash } from "../ledger/fold.ts";
import type { LedgerDefinition } from "../ledger/fold.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import type { Past } from "../ledger/past.ts";
import { foldOn, readSnapshot, snapshotText } from "../ledger/snapshot.ts";
import type { Row, Store } from "./store.ts";

export type KeptFold<State extends object> = {
  readonly fold: LedgerFold<State>;
  /** `thrownAway`: there was a snapshot that could not be used, and all entries were read. */
  readonly from: "snapshot" | "entries" | "thrownAway";
};

type Kind<State extends object> = {
  readonly definition: LedgerDefinition<State>;
  readonly ledger: LedgerId;
  readonly trust: Trust;
};

/** More entries than this after a snapshot, and it spares too little. */
const mostAfter = 2_000;

/**
 * From the snapshot where there is one that fits. `keep`: where all entries had to be read, a snapshot of them is kept for
 * the next time.
 */
export async function openFold<State extends object>(
  store: Store,
  kind: Kind<State>,
  sha256: Digest,
  { keep = false } = {},
): Promise<KeptFold<State>> {
  const text = await store.readSnapshot(kind.ledger);
  const kept = text === null ? null : await foldFrom(store, kind, text, sha256);
  if (kept !== null) return { fold: kept, from: "snapshot" };
  if (text !== null) await store.writeSnapshot(kind.ledger, null);
  const fold = keep ? await keepSnapshot(store, kind, sha256) : await foldWhole(store, kind);
  return { fold, from: text === null ? "entries" : "thrownAway" };
}

/** From all entries. */
export async function foldWhole<State extends object>(
  store: Store,
  { definition, ledger, trust }: Kind<State>,
): Promise<LedgerFold<State>> {
  return wholeOf(definition, trust, await rowsAfter(store, 0, ledger));
}

function wholeOf<State extends object>(
  definition: LedgerDefinition<State>,
  trust: Trust,
  rows: readonly Row[],
): LedgerFold<State> {
  return new LedgerFold(
    definition,
    rows.map(({ entry }) => reopenEntry(entry)),
    trust,
  );
}

/**
 * Keeps a snapshot of all entries that the store holds of the ledger. It is made from them and never from another
 * snapshot. Answers with the fold; nothing is kept where there is too little, or where an erasure has not been carried out.
 */
export async function keepSnapshot<State extends object>(
  store: Store,
  kind: Kind<State>,
  sha256: Digest,
): Promise<LedgerFold<State>> {
  const rows = await rowsAfter(store, 0, kind.ledger);
  const fold = wholeOf(kind.definition, kind.trust, rows);
  await keepOf(store, kind, rows, fold, sha256);
  return fold;
}

async function keepOf<State extends object>(
  store: Store,
  { definition, ledger }: Kind<State>,
  rows: readonly Row[],
  fold: LedgerFold<State>,
  sha256: Digest,
): Promise<void> {
  const { erased } = fold.folded;
  const isErasing = rows.some(({ entry }) => entry.body !== null && erased.has(entry.id));
  const made = isErasing ? null : snapshotText(definition, fold.whole, sha256);
  if (made === null) return;
  const first = rows.find(({ entry }) => !made.past.ids.has(entry.id));
  const through = (first?.position ?? rows.at(-1)!.position + 1) - 1;
  await store.writeSnapshot(ledger, `${through} ${made.text}`);
  // Somebody may have erased what stands folded in it while it was made.
  const later = await rowsAfter(store, rows.at(-1)!.position, ledger);
  if (later.some(({ entry }) => reopenEntry(entry).envelope.type === "erase"))
    await store.writeSnapshot(ledger, null);
}

/** Entries in all up to which a fold from zero is quick enough. */
const fewEntries = 512;

/**
 * Looks whether the snapshot gives what all entries give, and keeps a new one where there is none, where it spares too
 * little, or where it is wrong (`mended`: then what went on from it is wrong too). To be done beside the program, not in it.
 */
export async function tendSnapshot<State extends object>(
  store: Store,
  kind: Kind<State>,
  sha256: Digest,
): Promise<"few" | "fits" | "renewed" | "mended"> {
  if ((await store.countOf(kind.ledger, Number.MAX_SAFE_INTEGER)) < fewEntries) return "few";
  const text = await store.readSnapshot(kind.ledger);
  const kept = text === null ? null : await foldFrom(store, kind, text, sha256);
  const rows = await rowsAfter(store, 0, kind.ledger);
  const whole = wholeOf(kind.definition, kind.trust, rows);
  const isOfNow = kept !== null && kept.folded.heads.join() === whole.folded.heads.join();
  const isRight = isOfNow && stateHash(kept.folded, sha256) === stateHash(whole.folded, sha256);
  if (isRight && kept.folded.ordered.length < fewEntries) return "fits";
  await keepOf(store, kind, rows, whole, sha256);
  return isOfNow && !isRight ? "mended" : "renewed";
}

async function foldFrom<State extends object>(
  store: Store,
  { definition, ledger, trust }: Kind<State>,
  text: string,
  sha256: Digest,
): Promise<LedgerFold<State> | null> {
  const cut = text.indexOf(" ");
  const through = Number(text.slice(0, cut));
  if (cut < 1 || !Number.isSafeInteger(through) || through < 0) return null;
  const past = readSnapshot<State>(text.slice(cut + 1), ledger, trust, sha256);
  if (past === null) return null;
  const rows = await rowsAfter(store, through, ledger);
  if (!(await isHeld(store, ledger, past, through, rows))) return null;
  const after = rows.filter(({ entry }) => !past.ids.has(entry.id));
  if (after.length > mostAfter) return null;
  return foldOn(
    definition,
    after.map(({ entry }) => reopenEntry(entry)),
    trust,
    past,
  );
}

/** Whether the store holds what the past stands for, and nothing beside it up to that position. */
async function isHeld(
  store: Store,
  ledger: LedgerId,
  { ids, heads }: Pick<Past<object>, "ids" | "heads">,
  through: number,
  rows: readonly Row[],
): Promise<boolean> {
  const [before, lacking] = await Promise.all([store.countOf(ledger, through), store.lacking(heads)]);
  const among = rows.filter(({ entry }) => ids.has(entry.id)).length;
  return lacking.length === 0 && before + among === ids.size;
}

const rowsAtOnce = 2_000;

async function rowsAfter(store: Store, position: number, ledger: LedgerId): Promise<readonly Row[]> {
  const rows: Row[] = [];
  for (let from = position; ;) {
    // In pages, so that nothing that is written meanwhile waits long.
    const page = await store.since(from, rowsAtOnce, ledger);
    rows.push(...page.rows);
    if (!page.more) return rows;
    from = page.next;
  }
}
