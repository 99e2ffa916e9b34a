// Shapes that several routes share, and the limits of the API with their reasons.
import { z } from "zod";

export const limits = {
  /** One walk page with many findings is about 20 kB; a sheet or a chart never travels as an entry. */
  bytesPerText: 1_000_000,
  /** A day of one machine is well below a hundred entries; a batch must pass a weak mobile link in one go. */
  entriesPerPush: 200,
  /** What the server parses and verifies in about a second, and reads into memory at most per request. */
  bytesPerBody: 4_000_000,
  /** 67 bytes each, so a third of a megabyte. */
  idsPerOffer: 5_000,
  /** About 1.5 MB of usual entries. */
  entriesPerPull: 1_000,
} as const;

const hex = (digits: number): z.ZodString =>
  z.string().regex(new RegExp(`^[0-9a-f]{${digits}}$`, "u"), { error: `${digits} lower-case hex digits` });

export const hashShape = hex(64).meta({ description: "SHA-256 as lower-case hex." });
export const keyShape = hex(64).meta({ description: "Ed25519 public key (RFC 8032) as lower-case hex." });
export const ledgerShape = z
  .string()
  .regex(/^(craft|person|base|operator):[a-z0-9-]{1,64}$/u, { error: "kind:name, as craft:quill-1" });
export const personIdShape = z.string().regex(/^[a-z0-9][a-z0-9-]{1,63}$/u, { error: "an id of a person" });
export const instantShape = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/u, { error: "YYYY-MM-DDTHH:MM:SS.mmmZ" })
  .meta({ description: "UTC instant with exactly three decimals." });
export const cursorShape = z
  .string()
  .regex(/^[0-9A-Za-z._~-]{1,120}$/u, { error: "a cursor as the server handed it out" })
  .meta({ description: "Opaque: hand back what was handed out." });
export const epochShape = z
  .number()
  .int()
  .min(1)
  .meta({ description: "Rises when the server was restored from a backup: offer all entries again." });

const text = z.string().max(limits.bytesPerText);

/** Shape only: whether it hashes, verifies and may be accepted is judged by the ledger. */
export const storedEntryShape = z.strictObject({
  id: hashShape,
  envelope: text.min(2).meta({ description: "Canonical text (RFC 8785) of the envelope." }),
  sig: hex(128).meta({ description: "Ed25519 over `preen-entry-v1\\0` and the 32 bytes of the id." }),
  salt: hex(32).nullable(),
  body: text.min(2).nullable().meta({ description: "Canonical text of the body; null once erased." }),
});
