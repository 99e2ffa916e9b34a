// One of many, from a list that opens. Not the browser's own list: that one is painted by the system, in its own light,
// and would shine white into a red cockpit.
import { Button } from "react-aria-components/Button";
import { ListBox, ListBoxItem } from "react-aria-components/ListBox";
import { Label } from "react-aria-components/Label";
import { Popover } from "react-aria-components/Popover";
import { Select, SelectValue } from "react-aria-components/Select";
import { useWords } from "./words.tsx";

type PickerProps = {
  readonly label: string;
  readonly choices: readonly { readonly id: string; readonly name: string }[];
  readonly value: string | null;
  readonly onChoose: (id: string) => void;
};

export function Picker({ label, choices, value, onChoose }: PickerProps) {
  const { app } = useWords();
  return (
    <Select
      value={value}
      onChange={(chosen) => {
        if (typeof chosen === "string") onChoose(chosen);
      }}
      placeholder={app.doing.choose}
    >
      <Label className="field-label">{label}</Label>
      <Button className="button picker">
        <SelectValue />
        <svg width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
          <path d="M1.5 4.5L7 10L12.5 4.5" fill="none" stroke="currentColor" strokeWidth="2" />
        </svg>
      </Button>
      <Popover>
        <ListBox className="picker-list" items={choices}>
          {({ id, name }) => (
            <ListBoxItem id={id} className="picker-one" textValue={name}>
              {name}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  );
}
