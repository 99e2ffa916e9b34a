// The foot of a form that is signed: what is missing, what the record did not take and why, and the button.
import { useState } from "react";
import { own } from "../../core/facts/own.ts";
import type { SignRefusal } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { useOfficeWords } from "./use-office-words.ts";

type SignFootProps = {
  readonly label: string;
  /** What is still missing, in words; null when the form is whole. */
  readonly why: string | null;
  readonly onSign: () => Promise<SignRefusal | null>;
  readonly onDone: () => void;
};

export function SignFoot({ label, why, onSign, onDone }: SignFootProps) {
  const { office: words } = useOfficeWords();
  const [refused, setRefused] = useState<SignRefusal | null>(null);
  const sign = async () => {
    const refusal = await onSign();
    setRefused(refusal);
    if (refusal === null) onDone();
  };
  return (
    <>
      {refused !== null && (
        <Notice
          title={words.refused(
            own(words.refusals, refused.code) ?? refused.code,
            refused.path,
            refused.found,
            refused.wanted,
          )}
          kind="problem"
        />
      )}
      <div className="sheet-foot">
        <Button look="filled" onPress={() => void sign()} {...(why === null ? {} : { why })}>
          {label}
        </Button>
      </div>
    </>
  );
}
