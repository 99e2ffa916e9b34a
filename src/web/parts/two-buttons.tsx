// The two big buttons at the thumb, never more: the left one the rarer, the right one the usual next thing.
import { Button } from "./button.tsx";
import type { ButtonProps } from "./button.tsx";
import { HoldButton } from "./hold-button.tsx";
import type { HoldButtonProps } from "./hold-button.tsx";

export type BigButton = Omit<ButtonProps, "look"> | Omit<HoldButtonProps, "look">;

type TwoButtonsProps = { readonly left?: BigButton; readonly right: BigButton };

export function TwoButtons({ left, right }: TwoButtonsProps) {
  return (
    <div className="two-buttons">
      {left !== undefined && <Big button={left} look="outlined" />}
      <Big button={right} look="filled" />
    </div>
  );
}

function Big({ button, look }: { readonly button: BigButton; readonly look: "filled" | "outlined" }) {
  return "holdFor" in button ? <HoldButton {...button} look={look} /> : <Button {...button} look={look} />;
}
