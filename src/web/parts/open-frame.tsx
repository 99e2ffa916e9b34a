// What is open, in a dashed frame, wherever the person is, until it is closed.
import { useWords } from "./words.tsx";

type OpenFrameProps = {
  readonly open: readonly { readonly id: string; readonly name: string }[];
  /** True where what is open belongs to the place at hand; else it lies elsewhere and is only remembered. */
  readonly here: boolean;
};

export function OpenFrame({ open, here }: OpenFrameProps) {
  const { walk } = useWords();
  if (open.length === 0) return null;
  return (
    <section className="open-frame" aria-label={here ? walk.openHere : walk.openStill}>
      <span>{here ? walk.openHere : walk.openStill}: </span>
      <ul className="open-frame-list">
        {open.map(({ id, name }) => (
          <li key={id}>{name}</li>
        ))}
      </ul>
    </section>
  );
}
