import { mkdir, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import AxeBuilder from "@axe-core/playwright";

const pictureFolder = fileURLToPath(new URL("../../docs/pictures", import.meta.url));

// Software rendering on a busy machine is slow; what never comes is told all the same.
const patience = 90_000; // ms

/**
 * Runs a test on a page of its own and fails it on any console error or warning, page error,
 * failed request or answer from 400 up. A test with `lostNetwork` cuts the network itself.
 */
export async function withWatch(browser, address, test, pictures) {
  const context = await browser.newContext({
    baseURL: address,
    viewport: test.viewport ?? { width: 1440, height: 900 },
    colorScheme: test.scheme ?? "light",
    locale: test.locale ?? "en-GB",
    reducedMotion: "reduce",
    acceptDownloads: true,
  });
  context.setDefaultTimeout(patience);
  const page = await context.newPage();
  const faults = [];
  page.on("console", (message) => {
    // Chromium's notes on its own software rendering are none of the page's doing.
    if (/GPU stall due to ReadPixels|Automatic fallback to software WebGL/.test(message.text()))
      return;
    if (test.lostNetwork && /Failed to load resource: net::/.test(message.text())) return;
    if (["error", "warning"].includes(message.type()))
      faults.push(`console ${message.type()}: ${message.text()}`);
  });
  page.on("pageerror", (error) => faults.push(`page error: ${error}`));
  page.on("requestfailed", (request) => {
    const reason = request.failure()?.errorText ?? "";
    // A download, and a request or stream that the page itself gave up, end so.
    if (test.lostNetwork && /INTERNET_DISCONNECTED|CONNECTION_RESET|ERR_FAILED/.test(reason))
      return;
    if (reason !== "net::ERR_ABORTED") faults.push(`request failed: ${request.url()} ${reason}`);
  });
  page.on("response", (response) => {
    if (response.status() >= 400) faults.push(`answer ${response.status()}: ${response.url()}`);
  });

  const picture = async (name) => {
    if (!pictures) return;
    await mkdir(pictureFolder, { recursive: true });
    await writeFile(`${pictureFolder}/${name}.webp`, await webp(context, await page.screenshot()));
  };
  try {
    await test.run({ page, address, picture, faults });
    if (faults.length > 0) throw new Error(faults.join("\n"));
  } catch (error) {
    error.message += faults.length > 0 ? `\nseen on the page:\n${faults.join("\n")}` : "";
    throw error;
  } finally {
    await context.close();
  }
}

/** A picture a third of its size; the browser has the encoder. */
async function webp(context, png) {
  const page = await context.newPage();
  try {
    const address = await page.evaluate(
      async (source) => {
        const image = new Image();
        image.src = source;
        await image.decode();
        const canvas = document.createElement("canvas");
        canvas.width = image.naturalWidth;
        canvas.height = image.naturalHeight;
        canvas.getContext("2d").drawImage(image, 0, 0);
        return canvas.toDataURL("image/webp", 0.86);
      },
      `data:image/png;base64,${png.toString("base64")}`,
    );
    return Buffer.from(address.slice(address.indexOf(",") + 1), "base64");
  } finally {
    await page.close();
  }
}

export function expect(condition, message) {
  if (!condition) throw new Error(message);
}

/** Fails on any violation of WCAG A or AA, or of axe's own good practice. */
export async function expectAccessible(page) {
  const { violations } = await new AxeBuilder({ page }).analyze();
  const words = violations.map(
    ({ id, help, nodes }) =>
      `${id}: ${help}\n${nodes.map(({ target, failureSummary }) => `  ${target}: ${failureSummary}`).join("\n")}`,
  );
  expect(violations.length === 0, `axe-core found:\n${words.join("\n")}`);
}

/** The page fills the window and no more: nothing sticks out sideways. */
export async function expectNoOverflow(page) {
  const [inner, outer] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    window.innerWidth,
  ]);
  expect(inner <= outer, `the page is ${inner} px wide in a window of ${outer} px`);
}

/** Waits until more than this share of a canvas's pixels are coloured (not grey). */
export async function expectColoured(canvas, share) {
  const handle = await canvas.elementHandle();
  await canvas.page().waitForFunction(
    ([element, wanted]) => {
      if (element.width === 0 || element.height === 0) return false;
      const copy = document.createElement("canvas");
      copy.width = element.width;
      copy.height = element.height;
      const pen = copy.getContext("2d");
      pen.drawImage(element, 0, 0);
      const { data } = pen.getImageData(0, 0, copy.width, copy.height);
      let coloured = 0;
      for (let at = 0; at < data.length; at += 4) {
        const [red, green, blue, alpha] = data.subarray(at, at + 4);
        if (alpha > 0 && Math.max(red, green, blue) - Math.min(red, green, blue) > 24) coloured++;
      }
      return coloured > wanted * (data.length / 4);
    },
    [handle, share],
    { polling: 500 },
  );
}
