// A sheet over the screen: from below on a phone, in the middle where there is room.
//
// The browser's own modal dialog: what lies under it can neither be reached nor read, Escape leaves it, and the focus goes
// back to where it was. While open it is the only thing in the page.
import { useEffect, useEffectEvent, useId, useLayoutEffect, useRef } from "react";
import type { ReactNode } from "react";
import { Button } from "./button.tsx";
import { useWords } from "./words.tsx";

type SheetProps = {
  readonly title: string;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
  /** The two buttons of the sheet. */
  readonly foot?: ReactNode;
  /** A question that must be answered: neither Escape nor a tap outside leaves it, and there is no Close. */
  readonly mustAnswer?: boolean;
};

export function Sheet(props: SheetProps) {
  // Mounted only while open, so that what was typed in it last time is gone, and closed sheets cost nothing.
  return props.open ? <OpenSheet {...props} /> : null;
}

function OpenSheet({ title, onClose, children, foot, mustAnswer = false }: SheetProps) {
  const { app } = useWords();
  const id = useId();
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useRef<HTMLHeadingElement>(null);

  useLayoutEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    element?.showModal();
    heading.current?.focus();
    return () => {
      element?.close();
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);

  const leave = useEffectEvent((event: Event) => {
    event.preventDefault();
    // The end of an earlier opening, told late.
    if (event.type === "close" && dialog.current?.open === true) return;
    if (!mustAnswer) onClose();
    // A browser closes a dialog on a second Escape whatever the page says: a question is put again.
    else if (dialog.current?.open === false) dialog.current.showModal();
  });
  const tapOutside = useEffectEvent((event: MouseEvent) => {
    const box = dialog.current?.getBoundingClientRect();
    if (box === undefined || event.target !== dialog.current || mustAnswer) return;
    const { clientX: x, clientY: y } = event;
    if (x < box.left || x > box.right || y < box.top || y > box.bottom) onClose();
  });
  useEffect(() => {
    const element = dialog.current;
    const told = new AbortController();
    const { signal } = told;
    element?.addEventListener("cancel", (event) => leave(event), { signal });
    element?.addEventListener("close", (event) => leave(event), { signal });
    element?.addEventListener("click", (event) => tapOutside(event), { signal });
    return () => told.abort();
  }, []);

  return (
    <dialog ref={dialog} className="sheet" aria-labelledby={id} role={mustAnswer ? "alertdialog" : undefined}>
      <div className="sheet-head">
        <h2 ref={heading} id={id} className="title" tabIndex={-1}>
          {title}
        </h2>
        {!mustAnswer && (
          <Button look="plain" onPress={onClose}>
            {app.doing.close}
          </Button>
        )}
      </div>
      {children}
      {foot !== undefined && <div className="sheet-foot">{foot}</div>}
    </dialog>
  );
}
