// A snapshot: what spares the next start of the program the reducers of most entries. It may be thrown away at any time;
// a fold that goes on from it equals the fold from zero (property test).
//
// It holds the last checkpoint and, for each entry in it, all that its judgement depended on, so that a fold goes on from
// it only where the entries and what is believed of them are still the same. Text, with a hash over it: a damaged one, or
// one of another fold version, is no snapshot.
import { canonicalText } from "./canonical.ts";
import { hashText } from "./crypto.ts";
import type { Digest } from "./crypto.ts";
import type { Hash, LedgerId } from "./entry.ts";
import { foldVersion } from "./fold.ts";
import type { Before, Checkpoint } from "./fold.ts";

/** The name under which a snapshot is kept: of another fold version, or of other heads, it is another one. */
export function snapshotName(ledger: LedgerId, heads: readonly Hash[], sha256: Digest): string {
  return `${ledger} ${foldVersion} ${hashText(sha256, heads.join(" "))}`;
}

/** Null while there is no checkpoint: then there is nothing to spare. */
export function snapshotText<State extends object>(folded: Before<State>, sha256: Digest): string | null {
  const last = folded.checkpoints.at(-1);
  if (last === undefined) return null;
  const admissions = folded.admissions.slice(0, last.entries);
  const text = canonicalText({ fold: foldVersion, admissions, checkpoint: last });
  return `${hashText(sha256, text)} ${text}`;
}

/** What foldLedger may go on from; null when the text is no snapshot of this fold version. */
export function readSnapshot<State extends object>(text: string, sha256: Digest): Before<State> | null {
  const [hash, body] = [text.slice(0, 64), text.slice(65)];
  if (hashText(sha256, body) !== hash) return null;
  const { fold, admissions, checkpoint } = JSON.parse(body) as {
    readonly fold: number;
    readonly admissions: readonly string[];
    readonly checkpoint: Checkpoint<State>;
  };
  return fold === foldVersion ? { admissions, checkpoints: [checkpoint] } : null;
}
