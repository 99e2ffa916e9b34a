// Whether there is room for two columns: the same width at which the walk's columns part (screens.css).
import { useSyncExternalStore } from "react";

const twoColumns = "(min-width: 60rem)";

export function useWide(): boolean {
  return useSyncExternalStore(
    (listener) => {
      const query = matchMedia(twoColumns);
      query.addEventListener("change", listener);
      return () => query.removeEventListener("change", listener);
    },
    () => matchMedia(twoColumns).matches,
    () => false,
  );
}
