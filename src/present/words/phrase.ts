// A sentence with its subject marked, so that a screen can set the subject heavier and a paper or a log can leave it plain.
//
// Written as a tagged template: phrase`${subject("Left cowl latch")} is open`.

export type Piece = string | { readonly subject: string };
export type Phrase = readonly Piece[];

/** Marks what the sentence is about. */
export function subject(text: string): Piece {
  return { subject: text };
}

/** Joins literal text and values into one phrase; empty pieces fall away and neighbouring plain pieces become one. */
export function phrase(strings: TemplateStringsArray, ...values: readonly (Piece | Phrase)[]): Phrase {
  const pieces: Piece[] = [];
  strings.forEach((text, index) => {
    append(pieces, text);
    const value = values[index];
    if (value === undefined) return;
    for (const piece of Array.isArray(value) ? (value as Phrase) : [value as Piece]) append(pieces, piece);
  });
  return pieces;
}

function append(pieces: Piece[], piece: Piece): void {
  if (piece === "") return;
  const last = pieces.at(-1);
  if (typeof piece === "string" && typeof last === "string") pieces[pieces.length - 1] = last + piece;
  else pieces.push(piece);
}

/** The sentence as plain text. */
export function phraseText(pieces: Phrase): string {
  return pieces.map((piece) => (typeof piece === "string" ? piece : piece.subject)).join("");
}
