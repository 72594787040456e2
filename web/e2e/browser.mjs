import { chromium } from "playwright-core";

const webGl = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"];

/** Without a GPU, and no background calls of the browser's own. With WebGL in software everything is
 * put together by it, which takes half a second a frame on a busy machine; without, flat pages are
 * drawn by the processor as on any machine without a GPU, and there is no 3D. */
export const openBrowser = ({ solid = true } = {}) =>
  chromium.launch({
    executablePath: process.env.FILMWRIGHT_CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      ...(solid ? webGl : ["--disable-gpu"]),
    ],
  });
