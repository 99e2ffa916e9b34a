// Who is here: one row each, name first, role under it.
import { useWords } from "./words.tsx";

export type PersonRow = { readonly id: string; readonly name: string; readonly role: string };

type PersonPickProps = {
  readonly people: readonly PersonRow[];
  readonly chosen: string | null;
  readonly onPick: (id: string) => void;
};

export function PersonPick({ people, chosen, onPick }: PersonPickProps) {
  const { entry } = useWords();
  if (people.length === 0) return <p>{entry.person.none}</p>;
  return (
    <ul className="people" aria-label={entry.person.name}>
      {people.map(({ id, name, role }) => (
        <li key={id}>
          <button
            type="button"
            className="button person"
            aria-pressed={id === chosen}
            onClick={() => onPick(id)}
          >
            <span className="button-label">{name}</span>
            <span className="button-note">{role}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
