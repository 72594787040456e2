// @vitest-environment jsdom
import { cleanup, fireEvent, render, screen } from "@testing-library/react";
import { useState } from "react";
import { afterEach, expect, it, vi } from "vitest";
import { later } from "./later";

afterEach(cleanup);

const sheet = { default: ({ text }: { text: string }) => <p>{text}</p> };

function pageWith(useSheet: ReturnType<typeof later<{ text: string }>>) {
  return function Page() {
    const { Part, whenHere } = useSheet();
    const [text, setText] = useState("closed");
    const never = () => setText("not here");
    return (
      <>
        <button onClick={() => whenHere(() => setText("opened"), never)}>{text}</button>
        {Part && <Part text={`sheet ${text}`} />}
      </>
    );
  };
}

it("brings a part when it is first wanted, once for all who want it", async () => {
  const load = vi.fn(async () => sheet);
  const Page = pageWith(later(load));
  const first = render(<Page />);
  expect(load).not.toHaveBeenCalled();
  fireEvent.click(screen.getByRole("button"));
  await screen.findByText("sheet opened");
  first.unmount();
  render(<Page />);
  screen.getByText("sheet closed");
  expect(load).toHaveBeenCalledTimes(1);
});

it("says so when a part does not come, and asks for it again", async () => {
  const load = vi.fn(async () => sheet).mockRejectedValueOnce(new Error("no network"));
  const Page = pageWith(later(load));
  render(<Page />);
  fireEvent.click(screen.getByRole("button"));
  await screen.findByText("not here");
  fireEvent.click(screen.getByRole("button"));
  await screen.findByText("sheet opened");
});
