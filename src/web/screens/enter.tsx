// Who takes this device: choose yourself, give the PIN. The first time on a device needs a connection, later times not.
import { useState } from "react";
import { timeLeft } from "../../present/words/formats.ts";
import type { PinAnswer } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { PersonPick } from "../parts/person-pick.tsx";
import { PinPad } from "../parts/pin-pad.tsx";
import { Screen } from "../parts/screen.tsx";
import { Loading } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { LightAndLanguage } from "./light-and-language.tsx";

export const longestPin = 8;

/** What a PIN that was not taken says. */
export function usePinIssue(): (answer: PinAnswer) => string | null {
  const { entry, screens } = useWords();
  const locale = useLocale();
  return (answer) => {
    if (answer.ok) return null;
    switch (answer.why) {
      case "wrong":
        return entry.pin.wrong;
      case "locked":
        return entry.pin.locked(timeLeft(answer.wait_ms + 59_999, locale));
      case "noConnection":
        return screens.enter.noConnection;
      case "failed":
        return screens.enter.failed;
      default:
        return answer.why satisfies never;
    }
  };
}

export function Enter() {
  const { device, route, goTo } = useApp();
  const { people, mode } = useSnapshot();
  const { entry, screens } = useWords();
  const [chosen, setChosen] = useState<string | null>(null);
  const [pin, setPin] = useState("");
  const [issue, setIssue] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const issueOf = usePinIssue();
  const person = people.find(({ id }) => id === chosen);

  const enter = async () => {
    if (person === undefined || pin === "" || busy) return;
    setBusy(true);
    const answer = await device.enter(person.id, pin);
    setBusy(false);
    setPin("");
    setIssue(issueOf(answer));
    // An address deep inside the app stays what was wanted.
    if (answer.ok && !("craft" in route)) goTo({ screen: "machines" });
  };

  return (
    <Screen name="Preen" place="craft">
      <div className="enter stack-wide">
        <h1 className="head">
          {person === undefined ? screens.enter.title : `${screens.enter.again} ${person.name}`}
        </h1>
        {person === undefined ? (
          people.length === 0 ? (
            <Loading />
          ) : (
            <PersonPick
              people={people.map(({ id, name, roles }) => ({
                id,
                name,
                role: roles.map((role) => roleName(role, entry.role)).join(", "),
              }))}
              chosen={chosen}
              onPick={(id) => {
                setIssue(null);
                setChosen(id);
              }}
            />
          )
        ) : (
          <div className="stack">
            <PinPad
              pin={pin}
              onPin={setPin}
              onEnter={() => void enter()}
              longest={longestPin}
              issue={issue}
            />
            <Button look="plain" onPress={() => setChosen(null)}>
              {screens.enter.another}
            </Button>
          </div>
        )}
        <div className="quiet small">
          <p>{screens.enter.first}</p>
          {mode === "demo" && <p>{screens.enter.demoPins}</p>}
        </div>
        <LightAndLanguage />
      </div>
    </Screen>
  );
}

function roleName(role: string, names: Readonly<Record<string, string>>): string {
  return names[role] ?? role;
}
