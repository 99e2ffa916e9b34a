// Light, language, who holds the device, a newer version of the app.
import { lazy, Suspense } from "react";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { LightAndLanguage } from "./light-and-language.tsx";

const UnitsChoice = lazy(async () => ({ default: (await import("./units-choice.tsx")).UnitsChoice }));
const FallSound = lazy(async () => ({ default: (await import("./fall-sound.tsx")).FallSound }));

export function Setup() {
  const { app, screens } = useWords();
  const { device, goTo } = useApp();
  const { me, updateWaits, mode } = useSnapshot();
  const leave = async () => {
    await device.leave();
    goTo({ screen: "enter" });
  };
  return (
    <Frame craft={null} name={app.screens.setup} nameAs="h1">
      <div className="stack-wide settings">
        {updateWaits && (
          <Notice title={screens.setup.version}>
            <Button onPress={() => device.takeUpdate()} note={screens.setup.updateNote}>
              {screens.setup.takeUpdate}
            </Button>
          </Notice>
        )}
        <LightAndLanguage />
        <Suspense fallback={null}>
          <UnitsChoice />
          <FallSound />
        </Suspense>
        <section className="stack">
          <h2 className="heading-small">{screens.setup.device}</h2>
          {me !== null && <p>{screens.enter.holds(me.name)}</p>}
          <Button onPress={() => void leave()} note={screens.enter.leaveNote}>
            {screens.enter.leave}
          </Button>
        </section>
        <div className="quiet small">
          <p>{app.approvedDocumentsPrevail}</p>
          {mode === "demo" && <p>{app.demo}</p>}
        </div>
      </div>
    </Frame>
  );
}
