import hooks from "eslint-plugin-react-hooks";
import tseslint from "typescript-eslint";

// Who may import whom (type-only imports too). A folder may always import itself.
const layers = {
  units: [],
  geometry: ["units"],
  words: ["units"],
  api: ["units"],
  ui: [],
  canvas: ["units", "geometry", "ui"],
  parts: ["units", "geometry", "words", "api", "ui", "canvas"],
  features: ["units", "geometry", "words", "api", "ui", "canvas", "parts"],
  app: ["units", "geometry", "words", "api", "ui", "canvas", "parts", "features"],
};
const folders = Object.keys(layers);
const features = [
  "job",
  "body",
  "pieces",
  "roll",
  "knife",
  "card",
  "hand_over",
  "aftercare",
  "stock",
  "customers",
  "counter",
  "glass",
  "bench",
];

// Parents are reached by "@/folder" only, so that the table sees every import between folders.
const forbid = (names, message) => [
  "error",
  {
    patterns: [
      { group: ["../*"], message: "import another folder as @/folder/..." },
      ...names.map((name) => ({ group: [`@/${name}`, `@/${name}/**`], message })),
    ],
  },
];

export default tseslint.config(
  { ignores: ["dist", "node_modules", "src/api/schema.gen.ts"] },
  ...tseslint.configs.strict,
  hooks.configs.flat["recommended-latest"],
  {
    rules: {
      "@typescript-eslint/consistent-type-imports": "error",
      eqeqeq: "error",
      "no-console": "error",
    },
  },
  ...folders
    .filter((folder) => folder !== "features")
    .map((folder) => ({
      files: [`src/${folder}/**`],
      rules: {
        "no-restricted-imports": forbid(
          folders.filter((other) => other !== folder && !layers[folder].includes(other)),
          `${folder} may only import: ${layers[folder].join(", ") || "nothing"}`,
        ),
      },
    })),
  ...features.map((feature) => ({
    files: [`src/features/${feature}/**`],
    rules: {
      "no-restricted-imports": forbid(
        ["app", ...features.filter((other) => other !== feature).map((name) => `features/${name}`)],
        "a feature imports neither app nor another feature",
      ),
    },
  })),
  // What three draws is changed in place: that is how it is made to be used.
  { files: ["src/parts/stage/**"], rules: { "react-hooks/immutability": "off" } },
  { files: ["e2e/**"], rules: { "no-console": "off" } },
);
