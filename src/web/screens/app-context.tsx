// What every screen shares: the device, its latest snapshot, the way to other screens, light and language.
import { createContext, useContext, useSyncExternalStore } from "react";
import { namesIn } from "../../present/names.ts";
import type { Names } from "../../present/names.ts";
import type { Language } from "../../present/words/language.ts";
import type { CraftView, Device, DeviceSnapshot } from "../device/model.ts";
import type { Light } from "../look/light.ts";
import { useLocale } from "../parts/words.tsx";
import type { Route } from "./route.ts";

export type AppContext = {
  readonly device: Device;
  readonly route: Route;
  readonly goTo: (route: Route) => void;
  readonly light: Light;
  readonly setLight: (light: Light) => void;
  /** Resolves when the page speaks it. */
  readonly setLanguage: (language: Language) => Promise<void>;
};

const Context = createContext<AppContext | null>(null);
export const AppContextProvider = Context.Provider;

export function useApp(): AppContext {
  const app = useContext(Context);
  if (app === null) throw new Error("a screen stands outside the app");
  return app;
}

export function useSnapshot(): DeviceSnapshot {
  const { device } = useApp();
  return useSyncExternalStore(
    (listener) => device.subscribe(listener),
    () => device.snapshot(),
  );
}

/** The names of one craft's sheet and of people, in the reader's language. */
export function useNames(craft: CraftView | null): Names {
  const { people } = useSnapshot();
  const { language } = useLocale();
  return namesIn(language, craft?.sheet ?? null, new Map(people.map(({ id, name }) => [id, name])));
}
