// The width of an element in CSS pixels, measured before the first paint and again whenever it changes.
import { useLayoutEffect, useRef, useState } from "react";
import type { RefObject } from "react";

/** `guess` stands until the element has been measured, and where nothing can be (a server, a paper). */
export function useWidth<E extends Element>(guess: number): readonly [RefObject<E | null>, number] {
  const ref = useRef<E>(null);
  const [width, setWidth] = useState(guess);
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return undefined;
    const measure = () => {
      const measured = Math.round(element.getBoundingClientRect().width);
      if (measured > 0) setWidth(measured);
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [ref, width];
}
