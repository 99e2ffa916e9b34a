// The hash with an outside canonical form (canonicalize 4.0.0, RFC 8785) and Node's SHA-256.

import { createHash } from "node:crypto";
import canonicalize from "canonicalize";
import { expect, test } from "vitest";
import { withEdits } from "../../../demo/sheet/break-sheet.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { sheetHash } from "./sheet-hash.ts";

const hash = (sheet: unknown): string =>
  sheetHash(
    sheet,
    (value) => canonicalize(value) ?? "",
    (text) => createHash("sha256").update(text, "utf8").digest("hex"),
  );

test("the hash of a sheet is that of its canonical text: the order of keys is no matter, everything else is", () => {
  const whole = hash(smallSheet);
  expect(whole).toMatch(/^[0-9a-f]{64}$/);
  const { format, ...rest } = smallSheet;
  expect(hash({ ...rest, format })).toBe(whole);
  expect(hash(withEdits(smallSheet, { "gauges[0].low.value": 2.1 }))).not.toBe(whole);
  expect(hash(withEdits(smallSheet, { "order.launch[0]": "left", "order.launch[1]": "nose" }))).not.toBe(
    whole,
  );
  // SHA-256 of "{}" as any tool gives it.
  expect(hash({})).toBe("44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a");
});
