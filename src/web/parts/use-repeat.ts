// A press that goes on as long as it is held: once at once, then again and again, faster than a finger and slow enough to
// stop. A click by key or from assistive technology counts once.
import { useEffect, useEffectEvent, useRef } from "react";
import type { PointerEvent } from "react";

const first_ms = 380;
const every_ms = 60;

export function useRepeat(onPress: () => void) {
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null);
  const pressed = useRef(false);
  // The latest of the caller's, though the timer was started long ago.
  const press = useEffectEvent(onPress);
  const again = useEffectEvent(() => {
    press();
    timer.current = setTimeout(() => again(), every_ms);
  });
  const stop = () => {
    if (timer.current !== null) clearTimeout(timer.current);
    timer.current = null;
  };
  useEffect(() => stop, []);
  return {
    onPointerDown: ({ button, isPrimary }: PointerEvent<HTMLElement>) => {
      if (button !== 0 || !isPrimary) return;
      stop();
      pressed.current = true;
      onPress();
      timer.current = setTimeout(() => again(), first_ms);
    },
    onPointerUp: stop,
    onPointerLeave: stop,
    onPointerCancel: stop,
    onClick: () => {
      // The click that ends a press is not another one.
      if (!pressed.current) onPress();
      pressed.current = false;
    },
  };
}
