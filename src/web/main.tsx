// Where the app begins: opens the device's own store, shows what is in it, and then listens to the server.
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { localeOf } from "../present/words/language.ts";
import { openDevice } from "./device/app-device.ts";
import { bringWords } from "../present/words/words.ts";
import { currentLanguage } from "./look/language.ts";
import { Screen } from "./parts/screen.tsx";
import { Loading } from "./parts/whole-screen.tsx";
import { LocaleProvider } from "./parts/words.tsx";
import { App, NoStore } from "./screens/app.tsx";
import { registerWorker } from "./worker/register.ts";

async function start(): Promise<void> {
  const element = document.getElementById("app");
  if (element === null) throw new Error("the page has no place for the app");
  await bringWords(currentLanguage());
  const root = createRoot(element);
  root.render(
    <LocaleProvider locale={localeOf(currentLanguage(), "UTC")}>
      <Screen name="Preen">
        <Loading />
      </Screen>
    </LocaleProvider>,
  );

  let takeOver: () => void = () => undefined;
  try {
    const device = await openDevice({ clock_ms: Date.now, takeUpdate: () => takeOver() });
    root.render(
      <StrictMode>
        <App device={device} />
      </StrictMode>,
    );
    await registerWorker((waiting) => {
      takeOver = waiting;
      device.announceUpdate();
    });
  } catch (error) {
    root.render(<NoStore why={error instanceof Error ? error.message : String(error)} />);
  }
}

// Not awaited here: parts that are loaded later import from this file's own part, and would wait for it for ever.
void start();
