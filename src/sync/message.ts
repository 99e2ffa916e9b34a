// What device and server say to each other, as plain data. The wire carries the same in JSON; entries travel as text.
import type { Hash, InstantText, LedgerId, StoredEntry } from "../ledger/entry.ts";
import type { Epoch } from "./cursor.ts";

/**
 * One entry's fate at the server. `accepted`: kept and counts; a code then is a warning (a fork). `held`: was kept
 * already. `refused`: kept and travels, but does not count. `notKept`: does not hash or verify, so that nobody stands
 * behind it, or belongs to another operator; it stays on the device alone.
 */
export type Verdict = {
  readonly id: Hash;
  readonly verdict: "accepted" | "held" | "refused" | "notKept";
  readonly code: string | null;
};

/** `seen` is the newest mark that the device was given, of whatever epoch. */
export type Call =
  | { readonly kind: "offer"; readonly seen: string | null; readonly ids: readonly Hash[] }
  | { readonly kind: "push"; readonly seen: string | null; readonly entries: readonly StoredEntry[] }
  | {
      readonly kind: "pull";
      readonly seen: string | null;
      readonly cursor: string | null;
      readonly ledger: LedgerId | null;
      readonly limit: number;
    };

export type OfferAnswer = {
  readonly kind: "offer";
  readonly epoch: Epoch;
  readonly wanted: readonly Hash[];
  readonly mark: string;
};
export type PushAnswer = {
  readonly kind: "push";
  readonly epoch: Epoch;
  readonly verdicts: readonly Verdict[];
  readonly mark: string;
};
export type PullAnswer = {
  readonly kind: "pull";
  readonly epoch: Epoch;
  readonly entries: readonly StoredEntry[];
  readonly cursor: string;
  readonly more: boolean;
  readonly restarted: boolean;
  readonly serverTime: InstantText;
};
export type Answer = OfferAnswer | PushAnswer | PullAnswer;

/** How an exchange ends: a closed set. Each either comes right by waiting or needs a person. */
export const endings = {
  done: "settled",
  /** No connection, or it broke. */
  offline: "waits",
  timedOut: "waits",
  /** The server asked for patience. */
  tooFast: "waits",
  serverFailed: "waits",
  /** The answer was not what the protocol allows. */
  badAnswer: "waits",
  /** The device's own store did not take or give something. */
  storeFailed: "waits",
  /** The token is unknown or was withdrawn: enrol again. */
  tokenRefused: "person",
  /** The server does not speak this version of the protocol: load the newer app. */
  versionRefused: "person",
  /** Stopped by the device (signed out, closed). */
  stopped: "settled",
} as const;
export type Ending = keyof typeof endings;
/** Reasons for which a single call fails; `tooLarge` is mended by smaller batches. */
export type CallFailure = Exclude<Ending, "done"> | "tooLarge";
