import { createContext, type ReactNode, use, useEffect, useMemo, useState } from "react";
import type { LengthUnit } from "@/units/length";
import { de } from "./de";
import { en, type Words } from "./en";
import { type Format, formatter } from "./format";

export const languages = { en: "English", de: "Deutsch" } as const;
export type Language = keyof typeof languages;

const dictionaries: Record<Language, Words> = { en, de };

interface Preferences {
  unit: LengthUnit;
  language: Language;
}

interface Reader extends Preferences {
  words: Words;
  format: Format;
  change: (part: Partial<Preferences>) => void;
}

const storageKey = "filmwright.preferences";
const ReaderContext = createContext<Reader | null>(null);

const isLanguage = (value: unknown): value is Language =>
  typeof value === "string" && value in dictionaries;

function remembered(): Preferences {
  const fallback: Preferences = {
    unit: "in",
    language: isLanguage(navigator.language.slice(0, 2))
      ? (navigator.language.slice(0, 2) as Language)
      : "en",
  };
  try {
    const kept = JSON.parse(localStorage.getItem(storageKey) ?? "{}") as Partial<Preferences>;
    return {
      unit: kept.unit === "mm" || kept.unit === "in" ? kept.unit : fallback.unit,
      language: isLanguage(kept.language) ? kept.language : fallback.language,
    };
  } catch {
    return fallback;
  }
}

/** Gives every page below it the reader's language and units, and remembers them here. */
export function ReaderProvider({ children }: { children: ReactNode }) {
  const [preferences, setPreferences] = useState(remembered);
  useEffect(() => {
    localStorage.setItem(storageKey, JSON.stringify(preferences));
    document.documentElement.lang = preferences.language;
  }, [preferences]);
  const reader = useMemo<Reader>(
    () => ({
      ...preferences,
      words: dictionaries[preferences.language],
      format: formatter(preferences.language, preferences.unit),
      change: (part) => setPreferences((before) => ({ ...before, ...part })),
    }),
    [preferences],
  );
  return <ReaderContext value={reader}>{children}</ReaderContext>;
}

export function useReader(): Reader {
  const reader = use(ReaderContext);
  if (!reader) throw new Error("useReader needs a ReaderProvider above it");
  return reader;
}
