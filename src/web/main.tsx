// Where the app begins. Until the record has been read there is nothing to show, and that is said.
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { localeOf } from "../present/words/language.ts";
import { currentLanguage } from "./look/language.ts";
import { Screen } from "./parts/screen.tsx";
import { Loading } from "./parts/whole-screen.tsx";
import { LocaleProvider } from "./parts/words.tsx";

const element = document.getElementById("app");
if (element === null) throw new Error("the page has no place for the app");

createRoot(element).render(
  <StrictMode>
    <LocaleProvider locale={localeOf(currentLanguage(), "UTC")}>
      <Screen name="Preen">
        <Loading />
      </Screen>
    </LocaleProvider>
  </StrictMode>,
);
