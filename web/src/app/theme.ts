import {
  createTheme,
  type CSSVariablesResolver,
  defaultVariantColorsResolver,
  type MantineColorsTuple,
  type VariantColorsResolver,
} from "@mantine/core";

/** Copper's green: the one colour of what can be touched. */
const verdigris: MantineColorsTuple = [
  "#e8f5f1",
  "#d3e9e2",
  "#a9d7ca",
  "#8fcfbf",
  "#74c9b6",
  "#45a592",
  "#2a8474",
  "#196a5d",
  "#12574e",
  "#0b453d",
];

/** Filled things take the accent of the present look with its own ink on it. */
const variantColorResolver: VariantColorsResolver = (input) =>
  input.variant === "filled" && input.color === input.theme.primaryColor
    ? {
        background: "var(--accent)",
        hover: "color-mix(in srgb, var(--accent) 88%, var(--ink))",
        color: "var(--on-accent)",
        border: "1px solid transparent",
      }
    : defaultVariantColorsResolver(input);

export const theme = createTheme({
  colors: { verdigris },
  primaryColor: "verdigris",
  primaryShade: { light: 8, dark: 4 },
  variantColorResolver,
  fontFamily: "'Archivo Variable', system-ui, sans-serif",
  fontFamilyMonospace: "ui-monospace, 'DejaVu Sans Mono', monospace",
  headings: { fontFamily: "'Archivo Variable', system-ui, sans-serif", fontWeight: "620" },
  defaultRadius: 6,
  cursorType: "pointer",
  respectReducedMotion: true,
});

/** Mantine's own surfaces take the tokens of tokens.css. */
export const variables: CSSVariablesResolver = () => {
  const shared = {
    "--mantine-color-body": "var(--paper)",
    "--mantine-color-text": "var(--ink)",
    "--mantine-color-dimmed": "var(--ink-soft)",
    "--mantine-color-default": "var(--sheet)",
    "--mantine-color-default-hover": "var(--well)",
    "--mantine-color-default-border": "var(--rule-strong)",
    "--mantine-color-default-color": "var(--ink)",
    "--mantine-color-placeholder": "var(--ink-soft)",
    "--mantine-color-error": "var(--fault)",
  };
  return { variables: {}, light: shared, dark: shared };
};
