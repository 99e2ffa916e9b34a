// Taking a machine over: you, and who flies with you.
import { useState } from "react";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";

type TakeOverProps = { readonly craft: CraftView; readonly open: boolean; readonly onClose: () => void };

export function TakeOver({ craft, open, onClose }: TakeOverProps) {
  const { device } = useApp();
  const { me, people } = useSnapshot();
  const { screens } = useWords();
  const [withMe, setWithMe] = useState<readonly string[]>([]);
  if (me === null) return null;
  const others = people.filter(
    ({ id, roles }) => id !== me.id && (roles.includes("pilot") || roles.includes("crewMember")),
  );
  const toggle = (id: string) =>
    setWithMe((held) => (held.includes(id) ? held.filter((other) => other !== id) : [...held, id]));
  return (
    <Sheet
      title={`${screens.standing.takeOver}: ${craft.name}`}
      open={open}
      onClose={onClose}
      foot={
        <Button
          look="filled"
          onPress={() => void device.takeOver(craft.ledger, [me.id, ...withMe]).then(onClose)}
        >
          {screens.standing.takeOver}
        </Button>
      }
    >
      <p>{screens.standing.withYou}</p>
      <ul className="people">
        {others.map(({ id, name }) => (
          <li key={id}>
            <button
              type="button"
              className="button person"
              aria-pressed={withMe.includes(id)}
              onClick={() => toggle(id)}
            >
              <span className="button-label">{name}</span>
            </button>
          </li>
        ))}
      </ul>
    </Sheet>
  );
}
