// What a device can prove of the record that it holds: one entry with what stands behind it, or all of it as an export that
// is proven the way `preen verify` does. Loaded when somebody asks.
import { msToInstant } from "../../core/facts/instant.ts";
import { webVerifier } from "../../crypto/web.ts";
import type { Trust } from "../../ledger/acceptance.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { exportLines } from "../../ledger/export.ts";
import type { Folded } from "../../ledger/fold.ts";
import { isOpened, isSigned, openEntry } from "../../ledger/open.ts";
import { parentsOf } from "../../ledger/order.ts";
import { proveExport } from "../../ledger/prove-export.ts";
import type { Evidence, RecordProof } from "./model.ts";

export function exportText(entries: readonly StoredEntry[], at_ms: number): string {
  return `${[...exportLines(entries, msToInstant(at_ms), webVerifier.sha256)].join("\n")}\n`;
}

export async function proveRecord(
  entries: readonly StoredEntry[],
  at_ms: number,
  root: string | null,
): Promise<RecordProof> {
  const lines = exportLines(entries, msToInstant(at_ms), webVerifier.sha256);
  const { proven, faults, doubts, entries: count } = await proveExport(lines, webVerifier, root);
  return {
    proven,
    entries: count,
    faults: faults.map(({ kind, code, id }) => ({ kind, code, id })),
    doubts: doubts.map(({ id, code }) => ({ id, code })),
  };
}

/** `stored`: the entry as it lies on the disk now. */
export async function evidenceOf(
  stored: StoredEntry,
  folded: Pick<Folded<object>, "ordered" | "waiting" | "receipts">,
  trust: Trust,
): Promise<Evidence> {
  const opened = openEntry(stored, webVerifier.sha256);
  const receipt = folded.receipts.get(stored.id);
  const others = [...folded.ordered, ...folded.waiting].filter(({ id }) => id !== stored.id);
  const names = others.filter(
    (other) => parentsOf(other).includes(stored.id) || other.stored.body?.includes(stored.id) === true,
  );
  const shared = {
    receipt:
      receipt === undefined
        ? null
        : { received_ms: receipt.receivedAt_ms, verdict: receipt.verdict, entry: receipt.entry },
    namedBy: names.map(({ id }) => id),
  };
  if (!isOpened(opened))
    return { ...shared, hashes: false, signed: false, voucher: null, revoked_ms: null, before: [] };
  const { key, by } = opened.envelope;
  const certificate = (trust.certificates[key] ?? []).find(
    ({ person, from_ms, until_ms }) =>
      person === by && from_ms <= opened.at_ms && (until_ms === null || opened.at_ms < until_ms),
  );
  return {
    ...shared,
    hashes: true,
    signed: await isSigned(opened, webVerifier),
    voucher:
      key === trust.root
        ? { kind: "root" }
        : certificate === undefined
          ? null
          : {
              kind: "certificate",
              entry: certificate.entry,
              roles: certificate.roles,
              from_ms: certificate.from_ms,
            },
    revoked_ms: trust.revocations[key]?.at_ms ?? null,
    before: parentsOf(opened),
  };
}
