// A press that goes on as long as it is held: once at once, then again and again, faster than a finger and slow enough to
// stop. A click by key or from assistive technology counts once.
import { useEffect, useRef, useState } from "react";
import type { PointerEvent } from "react";

const first_ms = 380;
const every_ms = 60;

export function useRepeat(onPress: () => void) {
  const [held, setHeld] = useState(false);
  const pressed = useRef(false);
  // The latest of the caller's, though the timer was started long ago.
  const press = useRef(onPress);
  useEffect(() => {
    press.current = onPress;
  });
  useEffect(() => {
    if (!held) return undefined;
    let timer = setTimeout(function again() {
      press.current();
      timer = setTimeout(again, every_ms);
    }, first_ms);
    return () => clearTimeout(timer);
  }, [held]);
  const stop = () => setHeld(false);
  return {
    onPointerDown: ({ button, isPrimary, currentTarget, pointerId }: PointerEvent<HTMLElement>) => {
      if (button !== 0 || !isPrimary) return;
      // What the press changes may move the button: the finger has not left it for that.
      currentTarget.setPointerCapture(pointerId);
      pressed.current = true;
      onPress();
      setHeld(true);
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
