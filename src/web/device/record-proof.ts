// What a device can prove of the record that it holds: one entry with what stands behind it, or all of it as an export that
// is proven the way `preen verify` does. Loaded when somebody asks.
import { msToInstant } from "../../core/facts/instant.ts";
import { webVerifier } from "../../crypto/web.ts";
import type { Trust } from "../../ledger/acceptance.ts";
import type { StoredEntry } from "../../ledger/entry.ts";
import { exportLines } from "../../ledger/export.ts";
import { isOpened, isSigned, openEntry } from "../../ledger/open.ts";
import type { Opened } from "../../ledger/open.ts";
import { receiptsIn } from "../../ledger/system-entries.ts";
import { parentsOf } from "../../ledger/order.ts";
import { proveExport } from "../../ledger/prove-export.ts";
import type { Evidence, RecordProof } from "./model.ts";

type Held = ReadonlyMap<string, Uint8Array>;

function linesOf(entries: readonly StoredEntry[], at_ms: number, photos: Held): Generator<string, void> {
  return exportLines(entries, msToInstant(at_ms), webVerifier.sha256, (hash) => photos.get(hash) ?? null);
}

/** `photos`: those that are on this device, by hash. */
export function exportText(entries: readonly StoredEntry[], at_ms: number, photos: Held): string {
  return `${[...linesOf(entries, at_ms, photos)].join("\n")}\n`;
}

export async function proveRecord(
  entries: readonly StoredEntry[],
  given: { readonly at_ms: number; readonly root: string | null; readonly photos: Held },
): Promise<RecordProof> {
  const lines = linesOf(entries, given.at_ms, given.photos);
  const proof = await proveExport(lines, webVerifier, given.root);
  return {
    proven: proof.proven,
    entries: proof.entries,
    faults: proof.faults.map(({ kind, code, id }) => ({ kind, code, id })),
    // A photo that is not on this device is counted, and no doubt about the record.
    doubts: proof.doubts.filter(({ code }) => code !== "photoMissing").map(({ id, code }) => ({ id, code })),
    photos: proof.photos,
  };
}

/** `stored`: the entry as it lies on the disk now. */
export async function evidenceOf(
  stored: StoredEntry,
  entries: readonly Opened[],
  trust: Trust,
): Promise<Evidence> {
  const opened = openEntry(stored, webVerifier.sha256);
  const receipt = receiptsIn(trust, entries).get(stored.id);
  const others = entries.filter(({ id }) => id !== stored.id);
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
