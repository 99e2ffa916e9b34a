// The gallery of parts: for building and for tests, never shipped. ?plate=standing&language=de&light=red
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { isLanguage, localeOf } from "../../present/words/language.ts";
import { lights, setLight } from "../look/light.ts";
import { setLanguage } from "../look/language.ts";
import { LocaleProvider } from "../parts/words.tsx";
import { plates } from "./plates.tsx";
import { zone } from "./samples.ts";

const asked = new URLSearchParams(location.search);
const light = lights.find((name) => name === asked.get("light"));
if (light !== undefined) setLight(light);
const wanted = asked.get("language");
const language = isLanguage(wanted) ? wanted : "en";
setLanguage(language);
const Plate = plates[asked.get("plate") ?? ""];

const element = document.getElementById("app");
if (element === null) throw new Error("the page has no place for the gallery");

createRoot(element).render(
  <StrictMode>
    <LocaleProvider locale={localeOf(language, zone)}>
      {Plate === undefined ? (
        <ul className="plates">
          {Object.keys(plates).map((name) => (
            <li key={name}>
              <a href={`?plate=${name}`}>{name}</a>
            </li>
          ))}
        </ul>
      ) : (
        <Plate />
      )}
    </LocaleProvider>
  </StrictMode>,
);
