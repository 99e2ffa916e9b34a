// A line to write on, with its name above, a hint below, and what is wrong with it in words.
import { useId } from "react";
import type { ReactNode } from "react";
import { Glyph } from "./glyph.tsx";

type FieldProps = {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly hint?: ReactNode;
  readonly issue?: string | null;
  readonly lines?: "one" | "many";
  readonly inputMode?: "text" | "decimal" | "numeric" | "email";
  readonly autoComplete?: string;
  readonly secret?: boolean;
};

export function Field(props: FieldProps) {
  const {
    label,
    value,
    onChange,
    hint,
    issue = null,
    lines = "one",
    inputMode = "text",
    secret = false,
  } = props;
  const id = useId();
  const described = [hint === undefined ? null : `${id}-hint`, issue === null ? null : `${id}-issue`];
  const shared = {
    id,
    className: "field-line",
    value,
    onChange: (event: { target: { value: string } }) => onChange(event.target.value),
    inputMode,
    autoComplete: props.autoComplete ?? "off",
    spellCheck: lines === "many",
    "aria-invalid": issue !== null || undefined,
    "aria-describedby": described.filter((part) => part !== null).join(" ") || undefined,
  };
  return (
    <div className="field">
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      {lines === "one" ? (
        <input type={secret ? "password" : "text"} {...shared} />
      ) : (
        <textarea rows={3} {...shared} />
      )}
      {hint !== undefined && (
        <p id={`${id}-hint`} className="field-hint">
          {hint}
        </p>
      )}
      <FieldIssue id={`${id}-issue`} issue={issue} />
    </div>
  );
}

/** Always in the page, so that a screen reader hears it the moment it is filled. */
export function FieldIssue({ id, issue }: { readonly id: string; readonly issue: string | null }) {
  return (
    <output id={id}>
      {issue !== null && (
        <span className="field-issue">
          <Glyph name="finding" />
          <span>{issue}</span>
        </span>
      )}
    </output>
  );
}
