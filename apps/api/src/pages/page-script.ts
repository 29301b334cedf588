/** Sends a page's examples and shows their answers; without it the page still shows what to send. */
export const PAGE_SCRIPT = `"use strict";
for (const code of document.querySelectorAll("pre code")) {
  code.textContent = code.textContent.replaceAll("http://127.0.0.1:8787", location.origin);
}
const shown = (type, text) => {
  if (type.startsWith("application/json")) return JSON.stringify(JSON.parse(text), null, 2);
  if (!type.startsWith("image/svg+xml")) return text;
  const picture = new Image();
  picture.src = "data:image/svg+xml," + encodeURIComponent(text);
  picture.alt = new DOMParser().parseFromString(text, type.split(";")[0]).querySelector("title")?.textContent ?? "";
  return picture;
};
for (const button of document.querySelectorAll("button[data-path]")) {
  button.hidden = false;
  const answer = document.getElementById(button.getAttribute("aria-controls"));
  const status = button.nextElementSibling;
  button.addEventListener("click", async () => {
    button.disabled = true;
    status.textContent = "asking …";
    const { path, body } = button.dataset;
    const request = body === undefined ? {} : { method: "POST", headers: { "Content-Type": "application/json" }, body };
    const from = performance.now();
    try {
      const response = await fetch(path, request);
      const text = await response.text();
      status.textContent = response.status + " in " + Math.round(performance.now() - from) + " ms";
      answer.replaceChildren(shown(response.headers.get("Content-Type") ?? "", text));
    } catch (error) {
      status.textContent = "no answer";
      answer.textContent = String(error);
    }
    answer.hidden = false;
    button.disabled = false;
  });
}
`;
