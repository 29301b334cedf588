import { planBracket } from "@fieldstop/core/bracketing";
import { solveExposure } from "@fieldstop/core/exposure";
import { median } from "../tests/median";

/**
 * How many exposures and bracket plans a second, each against a peer that is timed in turns with it: the bare formula for the exposure, and one JSON
 * round trip of the plan's own answer, which is the least that a service does with it.
 */
const ROUNDS = 7;
const LOOPS = 60_000;

let sink = 0;

function exposure(i: number): void {
  sink += solveExposure({ ev100: 2 + (i % 14), aperture: 11, iso: 100, attenuationStops: i % 10 }).shutter.seconds;
}

function bareFormula(i: number): void {
  const settings = { n: 2 ** 3.5, iso: 100, ev: 2 + (i % 14) - (i % 10) };
  sink += (settings.n * settings.n * 100) / (settings.iso * 2 ** settings.ev);
}

const camera = { aperture: 11, iso: 100, headroomStops: 3, footroomStops: 6, frameGapSeconds: 0.5 };

function bracket(i: number): void {
  sink += planBracket({ shadowEv100: 1, highlightEv100: 11 + (i % 12), camera, overlapStops: 1 }).totalSeconds;
}

const answers = Array.from({ length: 12 }, (_, i) =>
  planBracket({ shadowEv100: 1, highlightEv100: 11 + i, camera, overlapStops: 1 }),
);

function jsonRoundTrip(i: number): void {
  sink += (JSON.parse(JSON.stringify(answers[i % 12])) as { totalSeconds: number }).totalSeconds;
}

function rate(work: (i: number) => void): number {
  const start = performance.now();
  for (let i = 0; i < LOOPS; i++) work(i);
  return (LOOPS * 1000) / (performance.now() - start);
}

function compare(name: string, work: (i: number) => void, peer: string, peerWork: (i: number) => void): void {
  rate(work);
  rate(peerWork);
  const rates: number[] = [];
  const ratios: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const ours = rate(work);
    const theirs = rate(peerWork);
    rates.push(ours);
    ratios.push(ours / theirs);
  }
  const persecond = Math.round(median(rates)).toLocaleString("en");
  console.log(`${name.padEnd(16)} ${persecond.padStart(10)} a second   ${median(ratios).toFixed(3)} of ${peer}`);
}

compare("solveExposure", exposure, "the bare formula", bareFormula);
compare("planBracket", bracket, "a JSON round trip of its answer", jsonRoundTrip);
if (!Number.isFinite(sink)) throw new Error("an answer was not a number");
