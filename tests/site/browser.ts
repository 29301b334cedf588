import { existsSync } from "node:fs";
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from "playwright-core";

const PLACES = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome-stable"];
const executablePath = [process.env["CHROMIUM_PATH"], ...PLACES].find((path) => path !== undefined && existsSync(path));

/** Whether there is no browser to test in; where everything must run, that is a fault and not a reason to skip. */
export const noBrowser = executablePath === undefined && process.env["CI"] !== "true";
export const reason = noBrowser ? " (skipped: no Chromium; Debian has it in chromium, or CHROMIUM_PATH names one)" : "";

export async function openBrowser(): Promise<Browser> {
  if (executablePath === undefined) throw new Error("the tests of the page need Chromium");
  return chromium.launch({
    executablePath,
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
}

export interface Visit {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Whatever the console and the page complained of. */
  readonly complaints: string[];
}

/** A reader with a fresh profile, half a world away from the island unless told otherwise. */
export async function visit(browser: Browser, options: BrowserContextOptions = {}): Promise<Visit> {
  const context = await browser.newContext({ timezoneId: "Pacific/Auckland", locale: "en-GB", ...options });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  return { context, page, complaints };
}
