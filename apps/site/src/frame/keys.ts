import { changed, type FrameState, lensAfter } from "./frame-state";

/** What a key does to the frame; null where it does nothing. */
export function afterKey(
  state: FrameState,
  event: Pick<KeyboardEvent, "key" | "shiftKey">,
  home: number,
  longestMinutes: number,
): FrameState | null {
  const turn = event.shiftKey ? 10 : 1;
  const change = ((): Partial<FrameState> | null => {
    switch (event.key) {
      case "ArrowLeft":
        return { azimuthDeg: state.azimuthDeg - turn };
      case "ArrowRight":
        return { azimuthDeg: state.azimuthDeg + turn };
      case "ArrowUp":
        return { pitchDeg: state.pitchDeg + turn };
      case "ArrowDown":
        return { pitchDeg: state.pitchDeg - turn };
      case "+":
      case "=":
        return { focalLengthMm: lensAfter(state.focalLengthMm, 1) };
      case "-":
        return { focalLengthMm: lensAfter(state.focalLengthMm, -1) };
      case "PageUp":
        return { tripodM: state.tripodM + 0.1 };
      case "PageDown":
        return { tripodM: state.tripodM - 0.1 };
      case ",":
        return { minutes: state.minutes - 5 };
      case ".":
        return { minutes: state.minutes + 5 };
      case "Home":
        return { azimuthDeg: home, pitchDeg: 0 };
      default:
        return null;
    }
  })();
  return change === null ? null : changed(state, change, longestMinutes);
}

export const KEYS_IN_WORDS =
  "Arrow keys turn and tilt the camera, with Shift by ten degrees. Plus and minus change the lens, Page Up and Page Down the tripod’s height, comma and full stop the time. Home turns back.";
