import { LanguageSwitch } from "../parts/language-switch.tsx";
import { LightSwitch } from "../parts/light-switch.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp } from "./app-context.tsx";

/** The two settings that a person wants before anything else. */
export function LightAndLanguage() {
  const { light, setLight, setLanguage } = useApp();
  const { language } = useLocale();
  return (
    <div className="settings stack">
      <LightSwitch light={light} onLight={setLight} />
      <LanguageSwitch language={language} onLanguage={(next) => void setLanguage(next)} />
    </div>
  );
}
