// The identity of a sheet: SHA-256 of its canonical text. Both are passed in, so that this stays free of the ledger,
// which owns the canonical form (RFC 8785).

/**
 * @param sheet the document as it was released, untouched
 * @param canonical writes any JSON value in its one canonical form
 * @param sha256 hash of a text's UTF-8 bytes as 64 lower-case hex digits
 */
export function sheetHash(
  sheet: unknown,
  canonical: (value: unknown) => string,
  sha256: (utf8Text: string) => string,
): string {
  return sha256(canonical(sheet));
}
