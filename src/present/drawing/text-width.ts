// About how wide a text is in Atkinson Hyperlegible Next, in pixels, without a page to measure it on.
//
// Advance widths of the bold face in thousandths of the type size, measured in Chromium 153 (canvas measureText) with the
// package's files of version 5.3.0, gathered into groups and rounded up to the widest of each, so that a label in either
// weight is never wider than it is taken to be. A letter not listed counts as the widest.

const groups: readonly (readonly [letters: string, thousandths: number])[] = [
  ["'|j,.:;·i! l", 320],
  ["()-frt", 380],
  ["I1/–zscyv", 530],
  ["7xaLäåkJeFuü9hnoöø2gbdpEq3", 600],
  ["5TSZß486PBVRYC0KAÄX", 690],
  ["UÜDHNGwOÖØQ", 760],
];
const widest = 890;

const widths = new Map(
  groups.flatMap(([letters, width]) => Array.from(letters, (letter) => [letter, width] as const)),
);

export function textWidth(text: string, size: number): number {
  return (Array.from(text).reduce((sum, letter) => sum + (widths.get(letter) ?? widest), 0) * size) / 1000;
}
