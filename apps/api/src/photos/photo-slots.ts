import pLimit from "p-limit";
import { ProblemError } from "../problems/problem";
import { FormMemory, RETRY_AFTER_SECONDS } from "./form-memory";
import { type Form, readForm } from "./read-form";
import { MOST_FORM_BYTES } from "./review-photos";

/** Forms whose photographs are decoded at once; they take turns by photograph. */
export const FORMS_AT_ONCE = 4;
/** Complete forms that wait for a slot. */
export const MAX_WAITING_FORMS = 12;
const MAX_PARTS = 64;

const slots = pLimit(FORMS_AT_ONCE);
/** Two of the largest forms; in memory, since where the service runs in a container `/tmp` is memory as well. */
const memory = new FormMemory(2 * MOST_FORM_BYTES);

/**
 * Read a form of photographs and hand it to `review`. It takes a slot once it is complete, so that a slow upload keeps no other form waiting; its bytes
 * count until `review` is done.
 * @throws ProblemError as `readForm` does, or where too many forms are in hand
 */
export async function reviewForm<T>(
  body: ReadableStream<Uint8Array> | null,
  contentType: string,
  review: (form: Form) => Promise<T>,
  signal?: AbortSignal,
): Promise<T> {
  // before anything is sent in vain
  requireRoom();
  const share = memory.share();
  try {
    const limits = { bytes: MOST_FORM_BYTES, parts: MAX_PARTS, take: share.take };
    const form = await readForm(body, contentType, limits, signal);
    requireRoom();
    return await slots(() => {
      signal?.throwIfAborted();
      return review(form);
    });
  } finally {
    share.release();
  }
}

function requireRoom(): void {
  if (slots.pendingCount < MAX_WAITING_FORMS) return;
  const detail = "As many forms are waiting as can be reviewed soon; try again shortly.";
  throw new ProblemError("unavailable", { detail, headers: { "Retry-After": RETRY_AFTER_SECONDS } });
}
