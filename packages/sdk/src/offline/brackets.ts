import * as operations from "@fieldstop/operations/brackets";
import type { BracketInput, BracketPlan, BracketReview, ReviewInput } from "../generated/types.gen.js";
import { answered } from "./answered.js";
import { needsService } from "./needs-service.js";
import type { OfflineOptions } from "./options.js";

/** The frames that hold a scene from its shadows to its highlights, without a network. */
export function planBracket(body: BracketInput, options?: OfflineOptions): Promise<BracketPlan> {
  return answered("/v1/brackets/plan", "json", options, () => operations.planBracket(body));
}

/** Which frames of a bracket the blend needs, and which were missed, without a network. */
export function reviewBracket(body: ReviewInput, options?: OfflineOptions): Promise<BracketReview> {
  return answered("/v1/brackets/review", "json", options, () => operations.reviewBracket(body));
}

/** Refused: the service decodes photographs. */
export function reviewBracketPhotos(): Promise<never> {
  return needsService("/v1/brackets/review-photos", "the service decodes the photographs; histograms need none");
}
