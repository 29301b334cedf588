import type { ObstacleClearance, OutingMoment, ProjectedSkyline } from "@fieldstop/sdk";
import type { Evening } from "../evening/evening";
import { cameraOf, filtersOf } from "../evening/kit";
import { cameraHeights, frame, plan } from "../evening/reckon";
import type { Ridge } from "../evening/ridge";
import { instantAfter } from "../words/place-time";
import { type FrameState, TRIPOD_M } from "./frame-state";

/** What the page knows of the frame: what is in it, and what it asks for. */
export interface ReckonedFrame {
  readonly state: FrameState;
  readonly instant: string;
  readonly seen: ProjectedSkyline;
  readonly moment: OutingMoment;
  readonly foreground: ObstacleClearance | null;
}

/** The frame, its contrast and the advice, reckoned in the page from the ridge that it holds. */
export async function reckonFrame(
  state: FrameState,
  evening: Evening,
  ridge: Ridge,
  firstInstant: string,
): Promise<ReckonedFrame> {
  const instant = instantAfter(firstInstant, state.minutes);
  const common = { place: placeOf(evening, ridge), horizon: ridge.horizon };
  const camera = lensOf(state);
  const [seen, moment, heights] = await Promise.all([
    frame({ ...common, camera, instant }),
    momentAt(state, evening, ridge, instant),
    state.foreground === null
      ? null
      : cameraHeights({
          ...common,
          camera,
          things: [{ ...state.foreground, name: "the stone" }],
          minHeightM: TRIPOD_M.min,
          maxHeightM: TRIPOD_M.max,
        }),
  ]);
  return { state, instant, seen, moment, foreground: heights?.things[0] ?? null };
}

/** Light, contrast and advice at some instants, two by two, with time between for the page to answer its reader. */
export async function courseOf(
  state: FrameState,
  evening: Evening,
  ridge: Ridge,
  instants: readonly string[],
  signal: AbortSignal,
): Promise<OutingMoment[]> {
  const found: OutingMoment[] = [];
  for (const instant of instants) {
    await new Promise((resolve) => setTimeout(resolve));
    if (signal.aborted) return [];
    found.push(await momentAt(state, evening, ridge, instant));
  }
  return found;
}

async function momentAt(state: FrameState, evening: Evening, ridge: Ridge, instant: string): Promise<OutingMoment> {
  const { moments } = await plan({
    place: placeOf(evening, ridge),
    date: evening.date,
    session: { from: instant, to: instantAfter(instant, 1) },
    camera: lensOf(state),
    filters: filtersOf(state.kit),
    horizon: ridge.horizon,
  });
  const moment = moments.find(({ name }) => name === "start") ?? moments[0];
  if (moment === undefined) throw new Error("a span has at least its first moment");
  return moment;
}

function lensOf({ kit, azimuthDeg, pitchDeg, focalLengthMm, orientation }: FrameState) {
  return { ...cameraOf(kit), azimuthDeg, pitchDeg, focalLengthMm, orientation };
}

function placeOf({ spot, timeZone }: Evening, ridge: Ridge) {
  const { name, latitude, longitude } = spot;
  return { name, latitude, longitude, timeZone, elevationM: spot.elevationM ?? ridge.elevationM };
}
