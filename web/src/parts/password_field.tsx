import { PasswordInput, type PasswordInputProps } from "@mantine/core";
import { useReader } from "@/words/preferences";

/** A password, hidden until its owner asks to see it; the keyboard can ask too. */
export function PasswordField(props: PasswordInputProps) {
  const { words } = useReader();
  return (
    <PasswordInput
      {...props}
      visibilityToggleButtonProps={{ tabIndex: 0, "aria-label": words.people.showPassword }}
    />
  );
}
