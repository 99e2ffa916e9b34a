// Tends the snapshots of this device beside the page, so that no tap waits for it: folds what the store holds from zero,
// looks whether the snapshots say the same, and keeps new ones (kept-fold.ts). Asked once with the operator's public key;
// answers with how many were renewed and how many were wrong, and is done.
import { webVerifier } from "../../crypto/web.ts";
import { noTrust } from "../../ledger/acceptance.ts";
import { baseLedger } from "../../ledger/base/base-ledger.ts";
import { craftLedger } from "../../ledger/craft/craft-ledger.ts";
import { foldLedger } from "../../ledger/fold.ts";
import { reopenEntry } from "../../ledger/open.ts";
import { operatorLedger } from "../../ledger/operator/operator-ledger.ts";
import { IndexedDbStore } from "../../store/indexeddb.ts";
import { tendSnapshot } from "../../store/kept-fold.ts";

export type SnapshotAsk = { readonly database: string; readonly root: string | null };
export type SnapshotsTended = { readonly renewed: number; readonly mended: number };

async function tend({ database, root }: SnapshotAsk): Promise<SnapshotsTended> {
  const store = await IndexedDbStore.open(database);
  const counts = { few: 0, fits: 0, renewed: 0, mended: 0 };
  try {
    const ledgers = await store.ledgers();
    const operators = ledgers.filter((ledger) => ledger.startsWith("operator:"));
    const entries = (await Promise.all(operators.map((ledger) => store.ofLedger(ledger)))).flat();
    const { trust } = foldLedger(operatorLedger, entries.map(reopenEntry), { ...noTrust, root }).state;
    const { sha256 } = webVerifier;
    for (const ledger of ledgers) {
      if (ledger.startsWith("craft:"))
        counts[await tendSnapshot(store, { definition: craftLedger, ledger, trust }, sha256)] += 1;
      if (ledger.startsWith("base:"))
        counts[await tendSnapshot(store, { definition: baseLedger, ledger, trust }, sha256)] += 1;
    }
  } finally {
    await store.close();
  }
  return counts;
}

addEventListener("message", ({ data }: MessageEvent<SnapshotAsk>) => {
  void tend(data).then(
    (tended) => postMessage(tended),
    // Without snapshots the next start reads all entries: slower, and as right.
    () => postMessage(null),
  );
});
