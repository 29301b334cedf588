import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RunningServer, startServer } from "../sdk/server";
import { violations } from "./accessibility";
import { noBrowser, openBrowser, reason, visit } from "./browser";
import { islandService } from "./island-service";

const PHONE = { viewport: { width: 360, height: 780 }, hasTouch: true, isMobile: true };
const WIDE = { viewport: { width: 1280, height: 900 } };

describe.skipIf(noBrowser)(`the reference in a browser${reason}`, () => {
  let browser: Browser;
  let service: RunningServer;

  beforeAll(async () => {
    service = await startServer(await islandService());
    browser = await openBrowser();
  }, 120_000);

  afterAll(async () => {
    await browser?.close();
    await service?.close();
  });

  it.each([
    ["/docs", WIDE, "light"],
    ["/docs", PHONE, "dark"],
    ["/docs/planOuting", WIDE, "dark"],
    ["/docs/planOuting", PHONE, "light"],
    ["/docs/reviewBracketPhotos", PHONE, "dark"],
    ["/docs/getForecast", WIDE, "light"],
  ] as const)(
    "axe finds nothing on %s, nothing stands out and nothing comes from elsewhere",
    async (path, device, colorScheme) => {
      const { context, page, complaints } = await visit(browser, { ...device, colorScheme });
      const elsewhere: string[] = [];
      page.on("request", (request) => {
        if (!request.url().startsWith(`${service.baseUrl}/`)) elsewhere.push(request.url());
      });
      await page.goto(`${service.baseUrl}${path}`);
      expect(await violations(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      expect(elsewhere).toEqual([]);
      expect(complaints).toEqual([]);
      await context.close();
    },
  );

  it("is read by keys from the list to the answer of an example", async () => {
    const { context, page, complaints } = await visit(browser, WIDE);
    await page.goto(`${service.baseUrl}/docs`);
    await page.getByRole("link", { name: "The fewest frames that hold a scene" }).focus();
    await page.keyboard.press("Enter");
    await page.waitForURL("**/docs/planBracket");
    await page.getByRole("button", { name: "Run it" }).focus();
    await page.keyboard.press("Enter");
    await expect.poll(() => page.getByRole("status").textContent()).toMatch(/^200 in/);
    await page.keyboard.press("Tab");
    expect(await page.locator("pre:focus").textContent()).toContain('"frames"');
    expect(complaints).toEqual([]);
    await context.close();
  });

  it("shows a picture as a picture", async () => {
    const { context, page, complaints } = await visit(browser, WIDE);
    await page.goto(`${service.baseUrl}/docs/drawHorizon`);
    await page.getByRole("button", { name: "Run it" }).click();
    const picture = page.locator("pre img");
    await picture.waitFor();
    expect(await picture.getAttribute("alt")).toMatch(/\w/);
    await expect.poll(() => picture.evaluate((image: HTMLImageElement) => image.naturalWidth)).toBeGreaterThan(300);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it("says all of it without scripts", async () => {
    const { context, page } = await visit(browser, { ...WIDE, javaScriptEnabled: false });
    await page.goto(`${service.baseUrl}/docs/getSunPosition`);
    expect(await page.locator("pre").first().innerText()).toContain("/v1/sun?latitude=");
    expect(await page.locator("dt").allTextContents()).toContain("altitudeDeg");
    await context.close();
  });
});
