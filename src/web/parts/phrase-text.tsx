// A sentence with its subject set heavier.
import type { Phrase } from "../../present/words/phrase.ts";

export function PhraseText({ of }: { readonly of: Phrase }) {
  return of.map((piece, index) =>
    // A phrase is never reordered, so its places are its keys.
    typeof piece === "string" ? piece : <b key={index}>{piece.subject}</b>,
  );
}
