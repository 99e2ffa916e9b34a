// The three kinds of entry that stand in any ledger and speak about other entries: the server's receipt, an
// administrator's decision on a fork, and an erasure. They fold into no state; acceptance and the fold read them.
import { z } from "zod";
import { instantToMs, isInstantText } from "../core/facts/instant.ts";
import { asideCodes, holdsRole } from "./acceptance.ts";
import type { Receipt, Trust } from "./acceptance.ts";
import type { Hash } from "./entry.ts";
import type { Opened } from "./open.ts";

const hash = z.string().regex(/^[0-9a-f]{64}$/u);
const instant = z.string().refine(isInstantText);

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

export const forkDecidedBody = z.strictObject({ counts: hash, words: z.string().min(1).max(2_000) });
export const eraseBody = z.strictObject({
  entry: hash,
  role: z.enum(["administrator", "airworthiness"]),
  legalReason: z.string().min(1).max(2_000),
});

/** Type → the role that may write it. */
const writers: Readonly<Record<string, readonly string[]>> = {
  receipt: ["server"],
  "fork.decided": ["administrator"],
  erase: ["administrator", "airworthiness"],
};
const schemas: Readonly<Record<string, z.ZodType>> = {
  receipt: receiptBody,
  "fork.decided": forkDecidedBody,
  erase: eraseBody,
};

export function isSystemType(type: string): boolean {
  return Object.hasOwn(writers, type);
}

/** Whether this system entry may say what it says: written by a key of the right role, in the right shape. */
export function systemFault(
  trust: Trust,
  { envelope, body }: Opened,
): "roleMissing" | "schema" | "newerVersion" | null {
  if (envelope.tv !== 1) return "newerVersion";
  if (!(writers[envelope.type] ?? []).some((role) => holdsRole(trust, envelope.key, role)))
    return "roleMissing";
  return schemas[envelope.type]?.safeParse(body).success === true ? null : "schema";
}

/** What the receipts among these entries say, by entry; of several receipts for one the refusal, else the earliest. */
export function receiptsIn(trust: Trust, entries: Iterable<Opened>): Map<Hash, Receipt> {
  const receipts = new Map<Hash, Receipt>();
  for (const opened of entries) {
    if (opened.envelope.type !== "receipt" || systemFault(trust, opened) !== null) continue;
    for (const { id, receivedAt, verdict, code } of (opened.body as ReceiptBody).entries) {
      const receipt = { receivedAt_ms: instantToMs(receivedAt), verdict, code, entry: opened.id };
      const held = receipts.get(id);
      if (held === undefined || outweighs(receipt, held)) receipts.set(id, receipt);
    }
  }
  return receipts;
}

function outweighs(a: Receipt, b: Receipt): boolean {
  if (a.verdict !== b.verdict) return a.verdict === "refused";
  return a.receivedAt_ms < b.receivedAt_ms || (a.receivedAt_ms === b.receivedAt_ms && a.entry < b.entry);
}

/** Of forked entries, the ids that an administrator decided to count. */
export function forksDecided(trust: Trust, entries: Iterable<Opened>): ReadonlySet<Hash> {
  const counting = new Set<Hash>();
  for (const opened of entries) {
    if (opened.envelope.type !== "fork.decided" || systemFault(trust, opened) !== null) continue;
    counting.add((opened.body as z.infer<typeof forkDecidedBody>).counts);
  }
  return counting;
}
