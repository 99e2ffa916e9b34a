// The code on a printed walk: short enough to be typed with cold hands, and unable to be mistaken for that of another plan.
//
// Nine signs of the plan's hash and one that checks them, from an alphabet of 29 signs without any that look alike (no
// 0 O Q, no 1 I L, no U beside V). The check is a weighted sum modulo 29, which is prime: every single wrong sign and every
// exchange of two signs is noticed. Nine signs tell some 10^13 plans apart.

const alphabet = "23456789ABCDEFGHJKMNPRSTVWXYZ";
const signs = 9;

/** The code of a plan, from its hash as hex: `4TK9-RB2MX-7`. Refuses (RangeError) what is no such hash. */
export function paperCode(hash: string): string {
  if (!/^[0-9a-f]{64}$/u.test(hash))
    throw new RangeError("a paper's code is made of a hash of 64 hex digits");
  let left = BigInt(`0x${hash.slice(0, 24)}`);
  const base = BigInt(alphabet.length);
  const values: number[] = [];
  for (let sign = 0; sign < signs; sign += 1) {
    values.push(Number(left % base));
    left /= base;
  }
  const text = [...values, checkOf(values)].map((value) => alphabet[value]).join("");
  return `${text.slice(0, 4)}-${text.slice(4, 9)}-${text.slice(9)}`;
}

function checkOf(values: readonly number[]): number {
  const sum = values.reduce((total, value, index) => total + (index + 2) * value, 0);
  return sum % alphabet.length;
}

export type TypedCode =
  | { readonly ok: string }
  /** `short`: signs are missing or too many; `mistyped`: some sign is not what was printed. */
  | { readonly issue: "short" | "mistyped" };

/** A code as it was typed: small letters and missing or other gaps are no fault. */
export function readPaperCode(typed: string): TypedCode {
  const text = typed.toUpperCase().replaceAll(/[\s.\-–_/]/gu, "");
  if (text.length !== signs + 1) return { issue: "short" };
  const values = text.split("").map((sign) => alphabet.indexOf(sign));
  if (values.includes(-1) || checkOf(values.slice(0, signs)) !== values[signs]) return { issue: "mistyped" };
  return { ok: `${text.slice(0, 4)}-${text.slice(4, 9)}-${text.slice(9)}` };
}
