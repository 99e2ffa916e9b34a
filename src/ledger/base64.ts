// Base64 with the usual alphabet and padding (RFC 4648, section 4), both ways, without anything of a platform. Test values:
// RFC 4648, section 10. Reading refuses every text that writing would not have made: other letters, missing padding, and
// bits beyond the last byte that are not zero (section 3.5), so that no two texts mean the same bytes.

const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const values = new Int8Array(128).fill(-1);
for (let value = 0; value < letters.length; value += 1) values[letters.charCodeAt(value)] = value;

export function toBase64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let at = 0; at < bytes.length; at += 3) {
    const [a, b, c] = [bytes[at]!, bytes[at + 1], bytes[at + 2]];
    const bits = (a << 16) | ((b ?? 0) << 8) | (c ?? 0);
    parts.push(
      letters[bits >> 18]! +
        letters[(bits >> 12) & 63]! +
        (b === undefined ? "=" : letters[(bits >> 6) & 63]!) +
        (c === undefined ? "=" : letters[bits & 63]!),
    );
  }
  return parts.join("");
}

/** Null where the text is not what `toBase64` writes. */
export function fromBase64(text: string): Uint8Array<ArrayBuffer> | null {
  if (text.length % 4 !== 0) return null;
  const padding = text.endsWith("==") ? 2 : text.endsWith("=") ? 1 : 0;
  const bytes = new Uint8Array((text.length / 4) * 3 - padding);
  const inside = text.length - padding;
  let [bits, held, to] = [0, 0, 0];
  for (let at = 0; at < inside; at += 1) {
    const value = values[text.charCodeAt(at)] ?? -1;
    if (value < 0) return null;
    bits = (bits << 6) | value;
    held += 6;
    if (held < 8) continue;
    held -= 8;
    bytes[to++] = (bits >> held) & 0xff;
    bits &= (1 << held) - 1;
  }
  return bits === 0 ? bytes : null;
}
