// What a screen shows while it has nothing to show: nothing there, not read yet, or not readable.
import type { ReactNode } from "react";
import { Button } from "./button.tsx";
import { Notice } from "./notice.tsx";
import { useWords } from "./words.tsx";

type EmptyProps = { readonly title: string; readonly children?: ReactNode; readonly action?: ReactNode };

export function Empty({ title, children, action }: EmptyProps) {
  return (
    <div className="empty">
      <h2 className="head">{title}</h2>
      {children !== undefined && <p className="quiet">{children}</p>}
      {action}
    </div>
  );
}

/** Dots, as for anything not known: what has not been read is not known. */
export function Loading() {
  const { app } = useWords();
  return (
    <output className="loading">
      <span>{app.loading}</span>
      <span className="loading-line" aria-hidden="true" />
    </output>
  );
}

type FailedProps = { readonly what: ReactNode; readonly onRetry: () => void };

export function Failed({ what, onRetry }: FailedProps) {
  const { app } = useWords();
  return (
    <div className="empty">
      <Notice title={app.failed.title} kind="problem">
        <p>{app.failed.body}</p>
        <p className="small quiet">{what}</p>
      </Notice>
      <Button onPress={onRetry}>{app.doing.retry}</Button>
    </div>
  );
}
