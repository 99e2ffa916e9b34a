// What the server says to entries that were pushed, and the receipts in which it says so. An entry that does not hash,
// does not verify, or belongs to nobody here is not kept: under its id the true one may still come. Every other is kept
// and travels; whether it counts stands in the receipt.
import { pooledVerifier, sha256 } from "../crypto/node.ts";
import { keyFault } from "../ledger/acceptance.ts";
import type { AsideCode } from "../ledger/acceptance.ts";
import type { Signer } from "../ledger/crypto.ts";
import type { LedgerId, StoredEntry } from "../ledger/entry.ts";
import { isOpened, isSigned, openEntry } from "../ledger/open.ts";
import type { Opened } from "../ledger/open.ts";
import type { ReceiptBody } from "../ledger/system-entries.ts";
import { msToInstant } from "../core/facts/instant.ts";
import type { Verdict } from "../sync/message.ts";
import type { Judge } from "../sync/server-side.ts";
import { serverPerson, type OperatorRecord } from "./record.ts";

export type JudgePorts = {
  readonly record: OperatorRecord;
  readonly root: Signer;
  readonly server: () => Signer;
  readonly now_ms: () => number;
  /** Keys that sign nothing here, as the demo's on an operator's own server. */
  readonly isForeignKey: (key: string) => boolean;
  readonly isPerson: (id: string) => boolean;
};

/** As many as a receipt may name. */
const linesPerReceipt = 1_000;

type ReceiptLine = ReceiptBody["entries"][number];

export function judgeFrom(ports: JudgePorts): Judge {
  return async (entries) => {
    const verdicts: Verdict[] = [];
    const kept: StoredEntry[] = [];
    const lines = new Map<LedgerId, ReceiptLine[]>();
    // All signatures of a push at once: they are what costs, and the pool has other processors.
    const read = entries.map((entry) => openedAndSigned(entry));
    for (const [index, entry] of entries.entries()) {
      const opened = await readable(ports, await read[index]!);
      if ("notKept" in opened) {
        verdicts.push({ id: entry.id, verdict: "notKept", code: opened.notKept });
        continue;
      }
      const { verdict, line } = await judgeOne(ports, opened);
      verdicts.push(verdict);
      kept.push(entry);
      const { ledger } = opened.envelope;
      const others = lines.get(ledger);
      if (others === undefined) lines.set(ledger, [line]);
      else others.push(line);
      await ports.record.takeIn(opened);
    }
    const receipts: StoredEntry[] = [];
    for (const [ledger, all] of lines) {
      for (let from = 0; from < all.length; from += linesPerReceipt) {
        const body: ReceiptBody = { entries: all.slice(from, from + linesPerReceipt) };
        receipts.push(
          await ports.record.seal(ports.server(), serverPerson, { ledger, type: "receipt", body }),
        );
      }
    }
    return { verdicts, kept, receipts };
  };
}

type Read = Opened | { readonly notKept: string };

async function openedAndSigned(entry: StoredEntry): Promise<Read> {
  const opened = openEntry(entry, sha256);
  if (!isOpened(opened)) return { notKept: opened.code };
  return (await isSigned(opened, pooledVerifier)) ? opened : { notKept: "signatureWrong" };
}

async function readable(ports: JudgePorts, opened: Read): Promise<Read> {
  if ("notKept" in opened) return opened;
  if (ports.isForeignKey(opened.envelope.key)) return { notKept: "demoKey" };
  return (await isOurs(ports, opened)) ? opened : { notKept: "ledgerUnknown" };
}

/** Whether the entry's ledger is one of this operator's, or may begin with this entry. */
async function isOurs(
  { record, root, isPerson }: JudgePorts,
  { envelope: { ledger, type, seq, key } }: Opened,
): Promise<boolean> {
  const name = ledger.slice(ledger.indexOf(":") + 1);
  if (ledger.startsWith("operator:")) {
    const { operator } = record;
    return operator === null ? type === "operator.opened" && key === root.key : ledger === operator.ledger;
  }
  if (ledger.startsWith("person:")) return isPerson(name);
  if (ledger.startsWith("base:"))
    return record.operator?.state.bases.some(({ base }) => base === ledger) ?? false;
  return (type === "craft.opened" && seq === 0) || record.has(ledger);
}

async function judgeOne(
  { record, root, now_ms }: JudgePorts,
  opened: Opened,
): Promise<{ readonly verdict: Verdict; readonly line: ReceiptLine }> {
  const { id } = opened;
  const receivedAt_ms = now_ms();
  const receipt = { receivedAt_ms, verdict: "accepted", code: null, entry: id } as const;
  // Before the founding there is nothing to believe but the root itself.
  const trust = record.operator === null ? { ...record.trust, root: root.key } : record.trust;
  const code: AsideCode | null = keyFault(trust, opened, receipt);
  const verdict = code === null ? "accepted" : "refused";
  // Both sides of a fork are kept, and count only by a person's decision.
  const { places } = await record.standingOf(opened.envelope.ledger);
  const warning = code === null && places.isFork(opened) ? "fork" : code;
  return {
    verdict: { id, verdict, code: warning },
    line: { id, receivedAt: msToInstant(receivedAt_ms), verdict, code },
  };
}
