// Whether the key of an entry speaks for its author. It follows from other entries alone: certificates and revocations
// in the operator's ledger, and the server's receipts, which stand in the ledger of the entries they judge.
//
// The operator's own key (the root) always speaks. Every other key needs a certificate for the person who is named and
// the instant that is claimed. What is received after a revocation stays aside whatever its `at` claims, and so does
// what has no receipt yet while its key is known to be revoked. The judgement of a whole ledger is in judgement.ts.
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

/** Why an entry stands aside: kept, carried on, folded as nothing but a doubt (*not known*). */
export const asideCodes = [
  /** A parent is not held; the entry waits for it. */
  "missingParent",
  /** Its key wrote something else in the same place of its chain. */
  "fork",
  /** The entry named before it is another key's, or not the one before. */
  "chainBroken",
  "uncertified",
  "outOfCertificate",
  "revoked",
  /** The server said so. */
  "refused",
  "roleMissing",
  "unknownType",
  "newerVersion",
  /** Its body is gone. */
  "erased",
  "schema",
  /** It makes no sense on the record before it. */
  "senseless",
] as const;
export type AsideCode = (typeof asideCodes)[number];

/** Whether the key is the root or has ever been certified for this role. */
export function holdsRole(trust: Trust, key: string, role: string): boolean {
  if (key === trust.root) return true;
  return (trust.certificates[key] ?? []).some((certificate) => certificate.roles.includes(role));
}

/** The certificates of the entry's key that are made out to its author and hold at the instant that it claims. */
function certificatesFor(trust: Trust, { envelope, at_ms }: Opened): readonly Certificate[] {
  return (trust.certificates[envelope.key] ?? []).filter(
    ({ person, from_ms, until_ms }) =>
      person === envelope.by && from_ms <= at_ms && (until_ms === null || at_ms < until_ms),
  );
}

/** Whether the author may act in one of these roles by this entry. The root may everything. */
export function actsIn(trust: Trust, opened: Opened, wanted: readonly string[]): boolean {
  if (opened.envelope.key === trust.root) return true;
  return certificatesFor(trust, opened).some((held) => held.roles.some((role) => wanted.includes(role)));
}

/** Why the key does not speak for this entry's author, or null when it does. */
export function keyFault(trust: Trust, opened: Opened, receipt: Receipt | undefined): AsideCode | null {
  const { key, by } = opened.envelope;
  if (key === trust.root) return null;
  if (!(trust.certificates[key] ?? []).some(({ person }) => person === by)) return "uncertified";
  const revocation = trust.revocations[key];
  if (revocation !== undefined && (receipt === undefined || receipt.receivedAt_ms >= revocation.at_ms))
    return "revoked";
  return certificatesFor(trust, opened).length > 0 ? null : "outOfCertificate";
}
