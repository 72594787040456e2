import { chromium } from "playwright-core";

// Software rendering for WebGL; no background calls of the browser's own.
export const openBrowser = () =>
  chromium.launch({
    executablePath: process.env.FILMWRIGHT_CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--use-gl=angle",
      "--use-angle=swiftshader",
      "--enable-unsafe-swiftshader",
    ],
  });
