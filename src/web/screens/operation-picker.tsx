// One kind of flying of all that the sheets of the operator's craft name.
import { Picker } from "../parts/picker.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";

type OperationPickerProps = {
  readonly label: string;
  readonly value: string | null;
  readonly onChoose: (operation: string) => void;
};

export function OperationPicker({ label, value, onChoose }: OperationPickerProps) {
  const { craft } = useSnapshot();
  const names = useNames(craft.find(({ sheet }) => sheet !== null) ?? null);
  const named = craft.flatMap(({ sheet }) => sheet?.operations ?? []);
  const choices = [...new Set(named.map(({ id }) => id))].map((id) => ({
    id,
    name: names.title("operation", id),
  }));
  return <Picker label={label} choices={choices} value={value} onChoose={onChoose} />;
}
