import { type ComponentType, useEffect, useState } from "react";
import { flushSync } from "react-dom";

const calm = 1500; // ms after which the page is taken to stand

/**
 * A part that the first look at a page can do without. It comes at a calm moment, so that it is here
 * before it is wanted, or as soon as it is wanted.
 */
export function later<Props>(load: () => Promise<{ default: ComponentType<Props> }>) {
  let part: ComponentType<Props> | undefined;
  const bring = async () => (part ??= (await load()).default);

  return function useLater() {
    const [Part, setPart] = useState(() => part);
    // Drawn before `then`: a part takes note of where the focus is when it opens, not when it comes.
    const whenHere = (then: () => void, never: () => void = ignore) => {
      if (Part) then();
      else
        bring().then((come) => {
          flushSync(() => setPart(() => come));
          flushSync(then);
        }, never);
    };
    useEffect(() => {
      const timer = setTimeout(() => bring().then((come) => setPart(() => come), ignore), calm);
      return () => clearTimeout(timer);
    }, []);
    return { Part, whenHere };
  };
}

/** Without a network it does not come; the next time it is wanted it is asked for again. */
const ignore = () => undefined;
