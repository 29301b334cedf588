import { isProblem } from "@fieldstop/sdk";

/** What to tell a reader when there is nothing to show. */
export function failureInWords(error: unknown): string {
  if (isProblem(error)) {
    if (error.status === 429) return "The service has had too many questions at once. Try again in a minute.";
    if (error.status >= 500)
      return "The service is down at the moment, and nothing for this day is kept on your device. Try again later.";
    return `The service cannot answer this: ${error.detail}`;
  }
  return "The service cannot be reached, and this spot’s ridge is not kept on your device yet. Open the page once with a network, and it works without one from then on.";
}
