// A press that must last. Works by finger, mouse and key; a click from assistive technology, which cannot last, is told
// apart so that it can be answered in another way.
import { useCallback, useEffect, useRef, useState } from "react";
import type { KeyboardEvent, PointerEvent } from "react";

export const hold_ms = 800;

/** How far (px) a finger may slide before it counts as having left. */
const slack = 12;

export type PressEnd = "tapped" | "held" | "assisted";

/** `onEnd` is told once per press: `held` the moment it has lasted, `tapped` on an earlier release, `assisted` for a bare click. */
export function useHold(onEnd: (end: PressEnd) => void) {
  const [holding, setHolding] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null);
  // A click follows each press by itself; it belongs to the press and is not another one.
  const ownClick = useRef(false);

  const stop = useCallback(() => {
    if (timer.current !== null) clearTimeout(timer.current);
    timer.current = null;
    setHolding(false);
  }, []);
  useEffect(() => stop, [stop]);

  const start = () => {
    stop();
    ownClick.current = true;
    setHolding(true);
    timer.current = setTimeout(() => {
      stop();
      onEnd("held");
    }, hold_ms);
  };
  const release = () => {
    if (timer.current === null) return;
    stop();
    onEnd("tapped");
  };

  const isPress = (event: KeyboardEvent) => event.key === "Enter" || event.key === " ";
  const handlers = {
    onPointerDown: (event: PointerEvent<HTMLElement>) => {
      if (event.button === 0 && event.isPrimary) start();
    },
    onPointerUp: release,
    onPointerCancel: stop,
    onPointerMove: (event: PointerEvent<HTMLElement>) => {
      if (timer.current === null) return;
      const box = event.currentTarget.getBoundingClientRect();
      const inside =
        event.clientX > box.left - slack &&
        event.clientX < box.right + slack &&
        event.clientY > box.top - slack &&
        event.clientY < box.bottom + slack;
      if (!inside) stop();
    },
    onPointerLeave: stop,
    onKeyDown: (event: KeyboardEvent) => {
      if (!isPress(event)) return;
      event.preventDefault();
      if (!event.repeat) start();
    },
    onKeyUp: (event: KeyboardEvent) => {
      if (!isPress(event)) return;
      event.preventDefault();
      release();
      ownClick.current = false;
    },
    onBlur: stop,
    onClick: () => {
      if (!ownClick.current) onEnd("assisted");
      ownClick.current = false;
    },
    onContextMenu: (event: { preventDefault(): void }) => event.preventDefault(),
  };
  return { holding, handlers };
}
