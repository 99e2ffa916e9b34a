// The frame of every screen: its name and how fresh it is, what it says, the two buttons, the way to other screens.
import type { ReactNode } from "react";

type ScreenProps = {
  readonly name: string;
  /** How fresh it is, or where in a walk: at the right of the name. */
  readonly aside?: ReactNode;
  readonly children: ReactNode;
  readonly foot?: ReactNode;
  /** Left out where one thing only is to be done, as on a walk. */
  readonly navigation?: ReactNode;
  /** At the aircraft and in a call everything to be touched is larger and further apart. */
  readonly place?: "craft" | "desk";
  /** `h1` where the name is what the screen is about; `p` where a verdict is. */
  readonly nameAs?: "h1" | "p";
};

export function Screen(props: ScreenProps) {
  const { name, aside, children, foot, navigation, place = "desk", nameAs: Name = "p" } = props;
  return (
    <div className="screen" data-place={place} data-alone={navigation === undefined || undefined}>
      {navigation}
      <div className="screen-body">
        <header className="screen-head">
          <Name className="screen-name">
            <b>{name}</b>
          </Name>
          {aside}
        </header>
        <main className="screen-main">{children}</main>
        {foot !== undefined && <div className="screen-foot">{foot}</div>}
      </div>
    </div>
  );
}
