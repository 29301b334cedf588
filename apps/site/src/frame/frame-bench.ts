import type { OutingMoment } from "@fieldstop/sdk";
import { html, nothing, render, type TemplateResult } from "lit-html";
import { live } from "lit-html/directives/live.js";
import type { Evening } from "../evening/evening";
import { decisiveMoment } from "../evening/evening";
import { USUAL_FOCAL_LENGTH_MM, USUAL_KIT } from "../evening/kit";
import type { Ridge } from "../evening/ridge";
import type { SunStep } from "../evening/sun-path";
import { clearancePicture } from "../pictures/clearance-picture";
import { framePicture } from "../pictures/frame-picture";
import { framesGlyph } from "../pictures/frames-glyph";
import { stopsLadder } from "../pictures/stops-ladder";
import { approachInWords } from "../words/approach-words";
import { contrastInWords, foregroundInWords, frameInWords, sunInWords } from "../words/frame-words";
import { clockOf, instantAfter, msOf } from "../words/place-time";
import { frameControls } from "./controls";
import { startDrag } from "./drag";
import { frameGeometry } from "./frame-geometry";
import { changed, type FrameState } from "./frame-state";
import { afterKey, KEYS_IN_WORDS } from "./keys";
import { courseOf, type ReckonedFrame, reckonFrame } from "./reckon-frame";

// A reader who turns on is not interrupted; one who rests is told
const REST_MS = 700;
const COURSE_MINUTES = 20;

/** The frame that the reader turns, with its advice, kept up to date from the ridge in the page. */
export class FrameBench {
  #state: FrameState;
  #reckoned: ReckonedFrame | undefined;
  #course: readonly OutingMoment[] = [];
  #busy = false;
  #stale = false;
  #rest: ReturnType<typeof setTimeout> | undefined;
  #courseEnd = new AbortController();
  #told = "";
  readonly #longestMinutes: number;

  readonly root = document.createElement("div");

  constructor(
    readonly evening: Evening,
    readonly ridge: Ridge,
    readonly path: readonly SunStep[],
  ) {
    const first = path[0] as SunStep;
    this.#longestMinutes = (msOf((path.at(-1) as SunStep).instant) - msOf(first.instant)) / 60_000;
    const moment = decisiveMoment(evening);
    // a little before the decisive moment, while there is still light to frame by
    const wanted =
      moment === undefined ? this.#longestMinutes / 2 : (msOf(moment.instant) - msOf(first.instant)) / 60_000 - 5;
    this.#state = changed(
      {
        azimuthDeg: evening.spot.cameraAzimuthDeg,
        pitchDeg: 0,
        focalLengthMm: USUAL_FOCAL_LENGTH_MM,
        orientation: "landscape",
        tripodM: 1.6,
        minutes: wanted,
        foreground: null,
        kit: USUAL_KIT,
      },
      {},
      this.#longestMinutes,
    );
    new ResizeObserver(() => this.#draw()).observe(this.root);
    void this.#reckon();
    this.#resting();
  }

  /** Changes the frame, and reckons it again. */
  change(change: Partial<FrameState>): void {
    this.#state = changed(this.#state, change, this.#longestMinutes);
    this.#draw();
    void this.#reckon();
    this.#resting();
  }

  /** One reckoning at a time; whatever changed meanwhile is reckoned after it. */
  async #reckon(): Promise<void> {
    if (this.#busy) {
      this.#stale = true;
      return;
    }
    this.#busy = true;
    try {
      this.#reckoned = await reckonFrame(this.#state, this.evening, this.ridge, this.#firstInstant);
      this.#draw();
    } finally {
      this.#busy = false;
    }
    if (this.#stale) {
      this.#stale = false;
      requestAnimationFrame(() => void this.#reckon());
    }
  }

  /** Once the frame rests: the words for who does not see it, and the frames that each time of the session asks for. */
  #resting(): void {
    clearTimeout(this.#rest);
    this.#courseEnd.abort();
    const end = new AbortController();
    this.#courseEnd = end;
    this.#rest = setTimeout(async () => {
      if (this.#reckoned !== undefined) this.#told = frameInWords(this.#reckoned);
      this.#draw();
      const instants = Array.from({ length: Math.floor(this.#longestMinutes / COURSE_MINUTES) }, (_, i) =>
        instantAfter(this.#firstInstant, (i + 0.5) * COURSE_MINUTES),
      );
      const course = await courseOf(this.#state, this.evening, this.ridge, instants, end.signal);
      if (end.signal.aborted) return;
      this.#course = course;
      this.#draw();
    }, REST_MS);
  }

  get #firstInstant(): string {
    return (this.path[0] as SunStep).instant;
  }

  #draw(): void {
    if (this.#reckoned !== undefined) render(this.#view(this.#reckoned), this.root);
  }

  #view(reckoned: ReckonedFrame): TemplateResult {
    const state = this.#state;
    const { moment, seen } = reckoned;
    const stone = foregroundInWords(reckoned);
    const aspect = seen.camera.heightMm > seen.camera.widthMm ? "frame upright" : "frame";
    return html`<div class="bench">
      <div class="seen">
        <div class=${aspect} role="application" tabindex="0" aria-roledescription="camera frame" aria-label="The frame" aria-describedby="frame-keys frame-words"
          @keydown=${this.#onKey} @pointerdown=${this.#onPointer}>
          ${framePicture(reckoned, this.path, this.ridge, Math.max(340, Math.min(760, this.root.clientWidth)))}
          <p class="in-frame" aria-hidden="true">${framesGlyph(moment)} ${approachInWords(moment)}</p>
        </div>
        <p class="caption"><span>${clockOf(reckoned.instant)}</span> <span>${Math.round(state.azimuthDeg)}°</span> <span>${state.focalLengthMm} mm</span> <span>tripod ${state.tripodM.toFixed(2)} m</span></p>
        ${this.#time(state, reckoned)}
      </div>
      <section class="advice" aria-label="Advice for this frame">
        <p class="approach">${framesGlyph(moment)} <strong>${approachInWords(moment)}</strong></p>
        ${stopsLadder(moment, state.kit)}
        <p>${contrastInWords(reckoned)} ${sunInWords(seen.sun)}</p>
        ${stone === null ? nothing : html`<p>${stone}</p>`}
        <ul class="reasons">${moment.approach.reasons.map(({ text }) => html`<li>${text}</li>`)}${moment.polarizer === undefined ? nothing : html`<li>${moment.polarizer.verdict.text}</li>`}</ul>
        ${seen.sun.aboveSkyline && seen.sun.inFrame ? html`<p class="warning">The sun is in the frame: do not look at it through the finder. Compose on the screen, or wait until it is gone.</p>` : nothing}
      </section>
      ${frameControls(state, (change) => this.change(change))}
      <p class="keys small" id="frame-keys">On the frame: ${KEYS_IN_WORDS} Drag it with mouse or finger.</p>
      <p class="unseen" id="frame-words" role="status" aria-live="polite">${this.#told}</p>
    </div>`;
  }

  #time(state: FrameState, reckoned: ReckonedFrame): TemplateResult {
    const clock = clockOf(reckoned.instant);
    return html`<div class="time">
      <label for="time"><span>Time</span> <output for="time">${clock}</output></label>
      ${clearancePicture({ path: this.path, ridge: this.ridge, course: this.#course, minutes: state.minutes, widthPx: this.root.clientWidth > 900 ? 760 : this.root.clientWidth })}
      <input type="range" id="time" min="0" max=${this.#longestMinutes} step="1" .value=${live(String(state.minutes))} aria-valuetext=${clock}
        @input=${(event: Event) => this.change({ minutes: Number((event.currentTarget as HTMLInputElement).value) })}>
      <p class="small">The sun over the ridge, and under each time the frames that it asks for.</p>
    </div>`;
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const next = afterKey(this.#state, event, this.evening.spot.cameraAzimuthDeg, this.#longestMinutes);
    if (next === null) return;
    event.preventDefault();
    this.change(next);
  };

  readonly #onPointer = (event: PointerEvent): void => {
    if (this.#reckoned === undefined) return;
    const { camera } = this.#reckoned.seen;
    const { fieldDeg } = frameGeometry(camera);
    const tallDeg = (fieldDeg * camera.heightMm) / camera.widthMm;
    startDrag(event, (right, down) => {
      const { azimuthDeg, pitchDeg } = this.#state;
      this.change({ azimuthDeg: azimuthDeg - right * fieldDeg, pitchDeg: pitchDeg + down * tallDeg });
    });
  };
}
