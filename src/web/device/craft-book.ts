// The ledgers as this device holds them: folded once, grown as entries come, and read as views of each craft.
// Entries come from the device's own store, which took only what hashed and verified.
import type { CraftState } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { craftLedger } from "../../ledger/craft/craft-ledger.ts";
import { standingOfCraft } from "../../ledger/craft/craft-standing.ts";
import type { Known } from "../../ledger/craft/craft-standing.ts";
import type { StopDraft } from "../../ledger/craft/recorder.ts";
import { stateHash } from "../../ledger/fold.ts";
import type { Folded } from "../../ledger/fold.ts";
import { LedgerFold } from "../../ledger/ledger-fold.ts";
import { reopenEntry } from "../../ledger/open.ts";
import type { Opened } from "../../ledger/open.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { operatorLedger } from "../../ledger/operator/operator-ledger.ts";
import type { OperatorState } from "../../ledger/operator/operator-ledger.ts";
import { webVerifier } from "../../crypto/web.ts";
import type { CraftView, LedgerLine } from "./model.ts";

function lineOf(folded: Folded<CraftState>, { id, envelope, body }: Opened): LedgerLine {
  return {
    id,
    type: envelope.type,
    at_ms: instantToMs(envelope.at),
    by: envelope.by,
    status: folded.statuses.get(id) ?? "missingParent",
    seq: envelope.seq,
    key: envelope.key,
    critical: envelope.critical,
    body: body ?? null,
    after: envelope.after,
  };
}

export class CraftBook {
  #operator: LedgerFold<OperatorState> | null = null;
  readonly #craft = new Map<string, LedgerFold<CraftState>>();
  /** Entries of craft that came before the operator's ledger gave anybody's trust. */
  #trust = operatorLedger.initial.trust;

  get operator(): OperatorState {
    return this.#operator?.folded.state ?? operatorLedger.initial;
  }

  fold(ledger: string): LedgerFold<CraftState> {
    let fold = this.#craft.get(ledger);
    if (fold === undefined) {
      fold = new LedgerFold(craftLedger, [], this.#trust);
      this.#craft.set(ledger, fold);
    }
    return fold;
  }

  get ledgers(): readonly string[] {
    return [...this.#craft.keys()].toSorted();
  }

  /** The latest receipt that any ledger holds; null without one. */
  latestReceipt_ms(): number | null {
    let latest: number | null = null;
    for (const { folded } of this.#craft.values()) {
      for (const { receivedAt_ms } of folded.receipts.values()) {
        if (latest === null || receivedAt_ms > latest) latest = receivedAt_ms;
      }
    }
    return latest;
  }

  add(entries: readonly StoredEntry[]): void {
    const byLedger = Map.groupBy(entries.map(reopenEntry), ({ envelope }) => envelope.ledger);
    for (const [ledger, opened] of byLedger) {
      if (!ledger.startsWith("operator:")) continue;
      if (this.#operator === null) this.#operator = new LedgerFold(operatorLedger, opened, this.#trust);
      else this.#operator.add(opened);
    }
    const trust = this.operator.trust;
    if (trust !== this.#trust) {
      this.#trust = trust;
      for (const fold of this.#craft.values()) fold.add([], trust);
    }
    for (const [ledger, opened] of byLedger)
      if (ledger.startsWith("craft:")) this.fold(ledger).add(opened, trust);
  }

  view(ledger: string, draft: StopDraft | null, known: Known): CraftView {
    const { folded } = this.fold(ledger);
    const { sheet, sheetHash, standing } = standingOfCraft(folded, known);
    let lines: readonly LedgerLine[] | null = null;
    let hash: string | null = null;
    return {
      ledger,
      name: folded.state.opened?.name ?? ledger.replace("craft:", ""),
      sheet,
      sheetHash,
      state: folded.state,
      draft,
      standing,
      // Only the ledger's own screen asks for these; they are not worth a tap's time.
      get stateHash() {
        hash ??= stateHash(folded, webVerifier.sha256);
        return hash;
      },
      get lines() {
        lines ??= [...folded.ordered, ...folded.waiting].map((opened) => lineOf(folded, opened));
        return lines;
      },
    };
  }

  /** Sheets that the craft need, by hash. */
  sheetsWanted(): ReadonlySet<string> {
    const wanted = new Set<string>();
    for (const { folded } of this.#craft.values())
      for (const { sheet } of folded.state.sheets) wanted.add(sheet);
    return wanted;
  }
}

export type SheetShelf = ReadonlyMap<string, Sheet>;
