// What an entry of the ledger is, as it is stored, sent and read.
//
// An entry is an envelope (signed, never altered) and a body beside it (which an erasure may remove while the chain
// still verifies). Stores, the wire and exports carry the canonical texts themselves, never a database's own JSON
// type, so that what was signed is what is kept, byte for byte.
// Made and checked in seal.ts; ordered in order.ts; judged in acceptance.ts; folded in fold.ts.

/** `craft:…`, `person:…`, `base:…` or `operator:…`; the part after the colon is lower-case letters, digits and hyphens. */
export type LedgerId = string;

/** SHA-256 as 64 lower-case hex digits. An entry's id is the hash of its envelope's canonical text. */
export type Hash = string;

/** A UTC instant as `YYYY-MM-DDTHH:MM:SS.mmmZ`, always with three decimals, so that text order is time order. */
export type InstantText = string;

/** An opaque person id; names stand in a directory that can be erased. */
export type PersonId = string;

/** Hashes of what the writer had in front of it. A part that did not matter is left out. */
export type Basis = { readonly sheet?: Hash; readonly rules?: Hash; readonly settings?: Hash };

export type Envelope = {
  /** Version of the envelope itself. */
  readonly v: 1;
  readonly ledger: LedgerId;
  /** Entry type, for example `walk.page`, and the version of its body's shape. */
  readonly type: string;
  readonly tv: number;
  /** Ed25519 public key (64 hex digits): one person on one device. */
  readonly key: string;
  /** Position in the chain of this key in this ledger, from 0, and the id of the entry before it there. */
  readonly seq: number;
  readonly prev: Hash | null;
  /** When it was recorded: the writer's claim. When it happened stands in the body. */
  readonly at: InstantText;
  readonly by: PersonId;
  /** Latest entries of this ledger that the device held: sorted, unique, at most 32, none an ancestor of another. */
  readonly after: readonly Hash[];
  /** True: a reader that does not understand this type must not call the craft ready. */
  readonly critical: boolean;
  readonly basis: Basis;
  /** SHA-256(salt ‖ canonical text of the body). */
  readonly bodyHash: Hash;
};

/** An entry as every store keeps it and every transport carries it. */
export type StoredEntry = {
  readonly id: Hash;
  /** Canonical text (RFC 8785) of the envelope. */
  readonly envelope: string;
  /** Ed25519 signature, 128 hex digits, over "preen-entry-v1\0" followed by the id's 32 bytes. */
  readonly sig: string;
  /** 32 hex digits and the canonical text of the body; both null once erased. */
  readonly salt: string | null;
  readonly body: string | null;
};
