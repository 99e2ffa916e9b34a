// The PIN before a signature: asked again, whoever holds the device.
import { useState } from "react";
import { Button } from "../parts/button.tsx";
import { PinPad } from "../parts/pin-pad.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useWords } from "../parts/words.tsx";
import { useApp } from "./app-context.tsx";
import { longestPin, usePinIssue } from "./enter.tsx";

type SignatureProps = {
  readonly title: string;
  readonly open: boolean;
  readonly onClose: () => void;
  /** Called once the PIN fits. */
  readonly onSigned: () => void;
};

export function Signature({ title, open, onClose, onSigned }: SignatureProps) {
  const { device } = useApp();
  const { screens } = useWords();
  const [pin, setPin] = useState("");
  const [issue, setIssue] = useState<string | null>(null);
  const issueOf = usePinIssue();
  const sign = async () => {
    const answer = await device.checkPin(pin);
    setPin("");
    setIssue(issueOf(answer));
    if (answer.ok) onSigned();
  };
  return (
    <Sheet title={title} open={open} onClose={onClose}>
      <PinPad pin={pin} onPin={setPin} onEnter={() => void sign()} longest={longestPin} issue={issue} />
      <Button look="plain" onPress={onClose}>
        {screens.walk.back}
      </Button>
    </Sheet>
  );
}
