import { html, nothing, type TemplateResult } from "lit-html";
import { live } from "lit-html/directives/live.js";
import type { Kit } from "../evening/kit";
import { bearingLetters } from "../words/bearing";
import { FOCAL_LENGTHS_MM, type Foreground, type FrameState, PITCH_DEG, TRIPOD_M } from "./frame-state";

type Change = (change: Partial<FrameState>) => void;

/** What the reader can turn, change and move, with its value beside it. */
export function frameControls(state: FrameState, change: Change): TemplateResult {
  const { kit, foreground } = state;
  const lens = Math.max(0, (FOCAL_LENGTHS_MM as readonly number[]).indexOf(state.focalLengthMm));
  const kitChange = (part: Partial<Kit>): void => change({ kit: { ...kit, ...part } });
  return html`<fieldset class="controls">
    <legend>Camera</legend>
    ${slider("Direction", "azimuth", state.azimuthDeg, 0, 359, 1, `${Math.round(state.azimuthDeg)}° ${bearingLetters(state.azimuthDeg)}`, (azimuthDeg) => change({ azimuthDeg }))}
    ${slider("Tilt", "pitch", state.pitchDeg, PITCH_DEG.min, PITCH_DEG.max, 1, `${Math.round(state.pitchDeg)}°`, (pitchDeg) => change({ pitchDeg }))}
    ${slider("Lens", "lens", lens, 0, FOCAL_LENGTHS_MM.length - 1, 1, `${state.focalLengthMm} mm`, (index) => change({ focalLengthMm: FOCAL_LENGTHS_MM[index] as number }))}
    ${slider("Tripod", "tripod", state.tripodM, TRIPOD_M.min, TRIPOD_M.max, TRIPOD_M.step, `${state.tripodM.toFixed(2)} m`, (tripodM) => change({ tripodM }))}
    <div class="choices">
      ${choice(
        "Held",
        "orientation",
        state.orientation,
        [
          ["landscape", "level"],
          ["portrait", "upright"],
        ],
        (orientation) => change({ orientation }),
      )}
      ${choice(
        "Sensor",
        "sensor",
        kit.sensor,
        [
          ["full-frame", "full frame"],
          ["aps-c", "APS-C"],
          ["four-thirds", "four thirds"],
          ["medium-44x33", "44 × 33 mm"],
        ],
        (sensor) => kitChange({ sensor }),
      )}
      ${choice(
        "One frame holds",
        "holds",
        String(kit.frameHoldsStops),
        [6, 7, 8, 9, 10, 11, 12, 13].map((n) => [String(n), `${n} stops`] as const),
        (n) => kitChange({ frameHoldsStops: Number(n) }),
      )}
      ${choice(
        "Graduated filters",
        "graduated",
        kit.graduated,
        [
          ["soft", "soft, 2 and 3 stops"],
          ["hard", "hard, 2 and 3 stops"],
          ["none", "none in the bag"],
        ],
        (graduated) => kitChange({ graduated }),
      )}
    </div>
    ${stone(state, foreground, change)}
  </fieldset>`;
}

function stone(state: FrameState, foreground: Foreground | null, change: Change): TemplateResult {
  const toggle = (event: Event): void =>
    change({
      foreground: (event.currentTarget as HTMLInputElement).checked
        ? { distanceM: 3, topM: 1.1, azimuthDeg: state.azimuthDeg }
        : null,
    });
  return html`<label class="tick-box"><input type="checkbox" id="stone" .checked=${live(foreground !== null)} @change=${toggle}> <span>A stone in front</span></label>
    ${
      foreground === null
        ? nothing
        : html`${slider("Stone’s distance", "stone-distance", foreground.distanceM, 1, 20, 0.5, `${foreground.distanceM} m`, (distanceM) => change({ foreground: { ...foreground, distanceM } }))}
          ${slider("Stone’s height", "stone-top", foreground.topM, 0.2, 4, 0.1, `${foreground.topM.toFixed(1)} m`, (topM) => change({ foreground: { ...foreground, topM } }))}`
    }`;
}

function slider(
  label: string,
  id: string,
  value: number,
  min: number,
  max: number,
  step: number,
  text: string,
  set: (value: number) => void,
): TemplateResult {
  return html`<label class="slider" for=${id}><span>${label}</span><output for=${id}>${text}</output>
    <input type="range" id=${id} min=${min} max=${max} step=${step} .value=${live(String(value))} aria-valuetext=${text}
      @input=${(event: Event) => set(Number((event.currentTarget as HTMLInputElement).value))}></label>`;
}

function choice<T extends string>(
  label: string,
  id: string,
  value: T,
  options: readonly (readonly [T, string])[],
  set: (value: T) => void,
): TemplateResult {
  return html`<label class="choice" for=${id}><span>${label}</span>
    <select id=${id} @change=${(event: Event) => set((event.currentTarget as HTMLSelectElement).value as T)}>
      ${options.map(([key, text]) => html`<option value=${key} .selected=${key === value}>${text}</option>`)}
    </select></label>`;
}
