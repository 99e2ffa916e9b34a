// The kinds of entry that stand in any ledger and speak about other entries: the server's receipt, the decision on a
// fork, the settling of what stands aside, and the erasure of what an entry says or of a photo that entries name. They
// fold into no state; judgement.ts reads them.
import { z } from "zod";
import { instantToMs, isInstantText } from "../core/facts/instant.ts";
import { actsIn, asideCodes } from "./acceptance.ts";
import type { Receipt, Trust } from "./acceptance.ts";
import type { Hash } from "./entry.ts";
import type { Opened } from "./open.ts";

const hash = z.string().regex(/^[0-9a-f]{64}$/u);
const instant = z.string().refine(isInstantText);
const words = z.string().min(1).max(2_000);

export const receiptBody = z.strictObject({
  entries: z
    .array(
      z.strictObject({
        id: hash,
        receivedAt: instant,
        verdict: z.enum(["accepted", "refused"]),
        code: z.enum(asideCodes).nullable(),
      }),
    )
    .min(1)
    .max(1_000),
});
export type ReceiptBody = z.infer<typeof receiptBody>;

/** Of entries that one key wrote in one place, the one that counts. */
export const forkDecidedBody = z.strictObject({ counts: hash, words });
export type ForkDecidedBody = z.infer<typeof forkDecidedBody>;

/** Somebody has dealt with these entries that stand aside: what they tell is written anew, or did not happen. */
export const asideSettledBody = z.strictObject({ entries: z.array(hash).min(1).max(1_000), words });
export type AsideSettledBody = z.infer<typeof asideSettledBody>;

export const eraseBody = z.strictObject({
  entry: hash,
  role: z.enum(["administrator", "airworthiness"]),
  legalReason: words,
});
export type EraseBody = z.infer<typeof eraseBody>;

/** The bytes of a photo are to be removed wherever they lie; what entries say of it stands. */
export const erasePhotoBody = z.strictObject({
  photo: hash,
  role: z.enum(["administrator", "airworthiness"]),
  legalReason: words,
});
export type ErasePhotoBody = z.infer<typeof erasePhotoBody>;

/** Type → who may write it, and the shape of its body. */
const kinds: ReadonlyMap<string, { readonly roles: readonly string[]; readonly schema: z.ZodType }> = new Map(
  [
    ["receipt", { roles: ["server"], schema: receiptBody }],
    ["fork.decided", { roles: ["administrator"], schema: forkDecidedBody }],
    ["aside.settled", { roles: ["administrator", "airworthiness"], schema: asideSettledBody }],
    ["erase", { roles: ["administrator", "airworthiness"], schema: eraseBody }],
    ["photo.erased", { roles: ["administrator", "airworthiness"], schema: erasePhotoBody }],
  ],
);

/** The roles in which an entry of this type is written; empty for what is no system type. */
export function systemRoles(type: string): readonly string[] {
  return kinds.get(type)?.roles ?? [];
}

export function isSystemType(type: string): boolean {
  return kinds.has(type);
}

/** Whether this system entry may say what it says: written in the right role, in the right shape. */
export function systemFault(trust: Trust, opened: Opened): "roleMissing" | "schema" | "newerVersion" | null {
  const { type, tv } = opened.envelope;
  const kind = kinds.get(type);
  if (kind === undefined || tv !== 1) return "newerVersion";
  if (!actsIn(trust, opened, kind.roles)) return "roleMissing";
  if (!kind.schema.safeParse(opened.body).success) return "schema";
  const { role } = opened.body as { readonly role?: string };
  return role === undefined || actsIn(trust, opened, [role]) ? null : "roleMissing";
}

/**
 * What the receipts among these entries say, by entry; of several receipts for one the refusal, else the earliest. The
 * receipts of a server key that was revoked count where a key that was not has receipted them before the revocation.
 */
export function receiptsIn(trust: Trust, entries: Iterable<Opened>): Map<Hash, Receipt> {
  const receipts = new Map<Hash, Receipt>();
  const revoked: Opened[] = [];
  for (const opened of entries) {
    if (opened.envelope.type !== "receipt" || systemFault(trust, opened) !== null) continue;
    if (isRevoked(trust, opened)) revoked.push(opened);
    else addReceipts(receipts, opened);
  }
  if (revoked.length === 0) return receipts;
  const vouched = new Map(receipts);
  for (const opened of revoked) {
    const receipt = vouched.get(opened.id);
    const { at_ms } = trust.revocations[opened.envelope.key]!;
    if (receipt?.verdict === "accepted" && receipt.receivedAt_ms < at_ms) addReceipts(receipts, opened);
  }
  return receipts;
}

function isRevoked(trust: Trust, { envelope: { key } }: Opened): boolean {
  return key !== trust.root && trust.revocations[key] !== undefined;
}

function addReceipts(receipts: Map<Hash, Receipt>, opened: Opened): void {
  for (const { id, receivedAt, verdict, code } of (opened.body as ReceiptBody).entries) {
    const receipt = { receivedAt_ms: instantToMs(receivedAt), verdict, code, entry: opened.id };
    const held = receipts.get(id);
    if (held === undefined || outweighs(receipt, held)) receipts.set(id, receipt);
  }
}

function outweighs(a: Receipt, b: Receipt): boolean {
  if (a.verdict !== b.verdict) return a.verdict === "refused";
  return a.receivedAt_ms < b.receivedAt_ms || (a.receivedAt_ms === b.receivedAt_ms && a.entry < b.entry);
}
