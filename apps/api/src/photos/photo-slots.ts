import pLimit from "p-limit";
import { ProblemError } from "../problems/problem";
import { FormMemory, RETRY_AFTER_SECONDS } from "./form-memory";
import { type Form, readForm } from "./read-form";
import { MAX_FORM_BYTES } from "./review-photos";

/** Forms whose photographs are decoded at once; they take turns by photograph. */
export const FORMS_AT_ONCE = 4;
/** Complete forms that wait for a slot. */
export const MAX_WAITING_FORMS = 12;
const MAX_PARTS = 64;

const slots = pLimit(FORMS_AT_ONCE);
/** Two of the largest forms; in memory, since where the service runs in a container `/tmp` is memory as well. */
const memory = new FormMemory(2 * MAX_FORM_BYTES);

/** A form in memory. */
export interface HeldForm {
  readonly form: Form;
  /** Count its bytes no longer. */
  readonly release: () => void;
}

/**
 * Read a form of photographs. It takes no slot while it arrives, so that a slow upload keeps no other form waiting; its bytes count until it is released.
 * @throws ProblemError as `readForm` does, or where too many forms are in hand
 */
export async function holdForm(
  body: ReadableStream<Uint8Array> | null,
  contentType: string,
  signal?: AbortSignal,
): Promise<HeldForm> {
  // before anything is sent in vain
  requireRoom();
  const share = memory.share();
  try {
    const limits = { bytes: MAX_FORM_BYTES, parts: MAX_PARTS, take: share.take };
    return { form: await readForm(body, contentType, limits, signal), release: share.release };
  } catch (error) {
    share.release();
    throw error;
  }
}

/**
 * Review a complete form when a slot is free.
 * @throws ProblemError where too many wait; the signal's reason once it is aborted
 */
export async function inSlot<T>(review: () => Promise<T>, signal?: AbortSignal): Promise<T> {
  requireRoom();
  return slots(() => {
    signal?.throwIfAborted();
    return review();
  });
}

function requireRoom(): void {
  if (slots.pendingCount < MAX_WAITING_FORMS) return;
  const detail = "As many forms are waiting as can be reviewed soon; try again shortly.";
  throw new ProblemError("unavailable", { detail, headers: { "Retry-After": RETRY_AFTER_SECONDS } });
}
