import { serviceBaseUrl } from "./evening/service";
import { registerWorker } from "./page/register-worker";

const service = serviceBaseUrl();
const here = new URL(".", location.href).href;
for (const [key, text] of [
  ["here", here],
  ["service", service],
] as const) {
  const place = document.querySelector(`[data-${key}]`);
  if (place !== null) place.textContent = text;
}
document.querySelector("fieldstop-tonight")?.setAttribute("service", service);
const script = document.createElement("script");
script.src = "fieldstop-tonight.js";
document.head.append(script);
registerWorker();
