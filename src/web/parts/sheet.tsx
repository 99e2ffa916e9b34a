// A sheet over the screen: from below on a phone, in the middle where there is room. Focus stays inside until it closes.
import type { ReactNode } from "react";
import { Dialog, Heading } from "react-aria-components/Dialog";
import { Modal, ModalOverlay } from "react-aria-components/Modal";
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

export function Sheet({ title, open, onClose, children, foot, mustAnswer = false }: SheetProps) {
  const { app } = useWords();
  return (
    <ModalOverlay
      className="sheet-shade"
      isOpen={open}
      onOpenChange={(stays) => {
        if (!stays) onClose();
      }}
      isDismissable={!mustAnswer}
      isKeyboardDismissDisabled={mustAnswer}
    >
      <Modal className="sheet">
        <Dialog role={mustAnswer ? "alertdialog" : "dialog"}>
          <div className="sheet-head">
            <Heading slot="title" className="title">
              {title}
            </Heading>
            {!mustAnswer && (
              <Button look="plain" onPress={onClose}>
                {app.doing.close}
              </Button>
            )}
          </div>
          {children}
          {foot !== undefined && <div className="sheet-foot">{foot}</div>}
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
