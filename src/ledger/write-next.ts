// Writes the next entry of a key in a ledger: its place in the chain and its parents follow from what is held.
import { msToInstant } from "../core/facts/instant.ts";
import type { Digest, Signer } from "./crypto.ts";
import type { Basis, StoredEntry } from "./entry.ts";
import type { LedgerFold } from "./ledger-fold.ts";
import { seal } from "./seal.ts";

export type NextEntry = {
  readonly ledger: string;
  readonly type: string;
  readonly body: unknown;
  readonly by: string;
  /** When it is recorded. */
  readonly at_ms: number;
  readonly basis: Basis;
  /** 32 hex digits of chance. */
  readonly salt: string;
};

/** Seals the entry; nothing is stored or folded by it. Version and criticality are those of the type's newest version. */
export function writeNext<State extends object>(
  fold: LedgerFold<State>,
  { at_ms, ...entry }: NextEntry,
  signer: Signer,
  sha256: Digest,
): Promise<StoredEntry> {
  const kinds = fold.definition.types.filter(({ type }) => type === entry.type);
  const last = fold.lastOf(signer.key);
  return seal(
    {
      ...entry,
      tv: Math.max(1, ...kinds.map(({ tv }) => tv)),
      critical: kinds.length === 0 || kinds.some(({ critical }) => critical),
      seq: last === undefined ? 0 : last.seq + 1,
      prev: last?.id ?? null,
      at: msToInstant(at_ms),
      after: fold.folded.heads,
    },
    signer,
    sha256,
  );
}
