// Whether an entry counts. It follows from other entries alone: certificates and revocations in the operator's ledger,
// and the server's receipts, which stand in the ledger of the entries they judge.
//
// An entry that does not count is kept, travels on and folds as nothing but a doubt: it stands aside with a code, and
// whoever computes a standing makes *not known* of it. What is received after a revocation stays aside whatever its
// `at` claims, and so does what has no receipt yet while its key is known to be revoked.
import { instantToMs } from "../core/facts/instant.ts";
import type { Hash } from "./entry.ts";
import type { Opened } from "./open.ts";

export const roles = ["pilot", "crewMember", "engineer", "airworthiness", "administrator", "server"] as const;
export type Role = (typeof roles)[number];

export type Certificate = {
  readonly entry: Hash;
  readonly key: string;
  readonly person: string;
  readonly roles: readonly string[];
  readonly from_ms: number;
  /** Null: until revoked. */
  readonly until_ms: number | null;
};

export type Revocation = {
  readonly entry: Hash;
  readonly key: string;
  readonly at_ms: number;
  readonly why: string;
};

/** Whom to believe. `root` is the operator's own key, known before anything else. */
export type Trust = {
  readonly root: string | null;
  readonly certificates: Readonly<Record<string, readonly Certificate[]>>;
  readonly revocations: Readonly<Record<string, Revocation>>;
};

export const noTrust: Trust = { root: null, certificates: {}, revocations: {} };

/** The server's word about one entry. */
export type Receipt = {
  readonly receivedAt_ms: number;
  readonly verdict: "accepted" | "refused";
  readonly code: string | null;
  readonly entry: Hash;
};

export const asideCodes = [
  "missingParent",
  "fork",
  "uncertified",
  "outOfCertificate",
  "revoked",
  "refused",
  "roleMissing",
  "unknownType",
  "newerVersion",
  "erased",
  "schema",
  "senseless",
] as const;
export type AsideCode = (typeof asideCodes)[number];

export function holdsRole(trust: Trust, key: string, role: string): boolean {
  if (key === trust.root) return true;
  return (trust.certificates[key] ?? []).some((certificate) => certificate.roles.includes(role));
}

/** Why the key does not speak for this entry's author, or null when it does. */
export function keyFault(trust: Trust, { envelope }: Opened, receipt: Receipt | undefined): AsideCode | null {
  const { key, by, at } = envelope;
  if (key === trust.root) return null;
  const certificates = (trust.certificates[key] ?? []).filter(({ person }) => person === by);
  if (certificates.length === 0) return "uncertified";
  const revocation = trust.revocations[key];
  if (revocation !== undefined && (receipt === undefined || receipt.receivedAt_ms >= revocation.at_ms))
    return "revoked";
  const at_ms = instantToMs(at);
  const holds = certificates.some(
    ({ from_ms, until_ms }) => from_ms <= at_ms && (until_ms === null || at_ms < until_ms),
  );
  return holds ? null : "outOfCertificate";
}

/** Ids that share key and seq with another entry of the ledger: one key wrote two different things in one place. */
export function forkedIds(entries: Iterable<Opened>): ReadonlySet<Hash> {
  const first = new Map<string, Hash>();
  const forked = new Set<Hash>();
  for (const { id, envelope } of entries) {
    const place = `${envelope.key} ${envelope.seq}`;
    const other = first.get(place);
    if (other === undefined) first.set(place, id);
    else if (other !== id) {
      forked.add(other);
      forked.add(id);
    }
  }
  return forked;
}
