import { type Answer, text } from "../middleware/answer";
import type { Lifetime } from "../middleware/cache-control";
import type { Guarded } from "../middleware/pipeline";
import type { RequestContext } from "../middleware/request-context";
import { ProblemError } from "../problems/problem";
import { type Contract, operationsOf } from "./contract";
import { docsPage } from "./docs-page";
import { ICON } from "./icon";
import { landingPage } from "./landing-page";
import { operationPage } from "./operation-page";
import { PAGE_SCRIPT } from "./page-script";
import { PAGE_STYLE } from "./page-style";
import { isProblemKey, problemPage } from "./problem-page";

const HTML = "text/html; charset=UTF-8";
const SCRIPT = "text/javascript";

/** A path that is open to all, whatever keys and limits the service has. */
export function openPath(
  template: string,
  lifetime: Lifetime,
  answer: (context: RequestContext) => Answer | Promise<Answer>,
): Guarded<undefined> {
  return { template, policy: { access: "open", lifetime }, types: [], read: () => undefined, answer };
}

/** The pages that people read: the landing page, the reference of the contract and a page for each type of problem. They change with the service's version alone. */
export function pages(contractText: () => Promise<string>): readonly Guarded<undefined>[] {
  const page = (template: string, answer: (context: RequestContext) => Answer | Promise<Answer>) =>
    openPath(template, "short", answer);
  let parsed: Promise<Contract> | undefined;
  const contract = (): Promise<Contract> => {
    parsed ??= contractText().then((written) => JSON.parse(written) as Contract);
    return parsed;
  };
  return [
    page("/", () => text(String(landingPage()), HTML)),
    page("/page.js", () => text(PAGE_SCRIPT, SCRIPT)),
    page("/page.css", () => text(PAGE_STYLE, "text/css")),
    page("/icon.svg", () => text(ICON, "image/svg+xml")),
    page("/openapi.json", async () => text(await contractText(), "application/json")),
    page("/docs", async () => text(String(docsPage(await contract())), HTML)),
    page("/docs/:operation", async ({ params }) => {
      const known = await contract();
      const operation = operationsOf(known).find(({ operationId }) => operationId === params["operation"]);
      if (operation === undefined) throw nothingHere();
      return text(String(operationPage(known, operation)), HTML);
    }),
    page("/problems/:key", ({ params }) => {
      const key = params["key"] ?? "";
      if (!isProblemKey(key)) throw nothingHere();
      return text(String(problemPage(key)), HTML);
    }),
  ];
}

function nothingHere(): ProblemError {
  return new ProblemError("not-found", { detail: "Nothing has this name." });
}
