// How a store fails: one class, a closed list of codes. The message names the place (file or database) and the next
// step, so that it can be printed as it stands; screens take their words by the code.

export const storeErrorCodes = [
  /** Not a database, damaged pages, or an empty file where a database was. Nothing was changed. */
  "corrupted",
  /** Another process (or an older window) holds it. */
  "locked",
  /** Written by a newer version of this program. */
  "newer",
  /** A database, but not one of this program. */
  "foreign",
  /** No room: disk full or browser quota reached. What was acknowledged before is kept. */
  "full",
  /** Cannot be opened or written: missing folder, no permission, input/output error, no answer in time. */
  "unavailable",
  /** Used after close(). */
  "closed",
] as const;
export type StoreErrorCode = (typeof storeErrorCodes)[number];

export class StoreError extends Error {
  readonly code: StoreErrorCode;
  /** File or database that the error is about. */
  readonly place: string;

  constructor(code: StoreErrorCode, place: string, text: string, cause?: unknown) {
    super(`${place}: ${text}`, cause === undefined ? undefined : { cause });
    this.name = "StoreError";
    this.code = code;
    this.place = place;
  }
}
