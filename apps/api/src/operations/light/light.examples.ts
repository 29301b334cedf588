import { BAG, CAMERA, RIDGE, SLACK_VIEW, STRAND } from "../shared/ardvane.examples";

export const LIGHT_WINDOWS = {
  "west-facing-wall": {
    summary: "When direct light leaves a wall that looks west and leans back",
    value: { place: STRAND, date: "2027-03-20", subject: { facingAzimuthDeg: 270, slopeDeg: 70 } },
  },
  "ridge-of-ones-own": {
    summary: "The same day behind a ridge that was measured on the spot",
    value: { place: STRAND, date: "2027-03-20", horizon: RIDGE },
  },
};

export const LIGHT_LEVELS = {
  "last-hour": {
    summary: "Each five minutes of the last hour, with the contrast in the frame",
    value: {
      place: STRAND,
      from: "2027-03-20T17:30:00Z",
      to: "2027-03-20T18:30:00Z",
      stepMinutes: 5,
      camera: { azimuthDeg: 290 },
    },
  },
};

export const LIGHT_LEVELS_PICTURE = {
  "whole-day": { summary: "The light of a day", value: { place: STRAND, date: "2027-03-20", width: 800 } },
};

export const ALIGNMENTS = {
  "moon-over-the-notch": {
    summary: "When the moon stands three degrees up at the notch in the ridge",
    value: {
      place: SLACK_VIEW,
      body: "moon",
      target: { kind: "direction", azimuthDeg: 268, altitudeDeg: 3 },
      toleranceDeg: 1,
      from: "2027-01-01",
      to: "2027-06-30",
    },
  },
} as const;

export const SKYLINE = {
  "bay-at-24-mm": {
    summary: "The ridge across the bay through a 24 mm lens, and where the sun stands",
    value: { place: STRAND, camera: CAMERA, instant: "2027-03-20T18:10:00Z" },
  },
  "ridge-of-ones-own": {
    summary: "A ridge that was measured on the spot",
    value: { place: STRAND, camera: CAMERA, horizon: RIDGE },
  },
};

export const CAMERA_HEIGHT = {
  "boulder-below-the-ridge": {
    summary: "How high the tripod must stand for the ridge to clear a boulder",
    value: {
      place: STRAND,
      camera: CAMERA,
      horizon: RIDGE,
      things: [{ name: "boulder", distanceM: 5, topM: 1.5, widthDeg: 12 }],
    },
  },
};

export const OUTING = {
  "evening-on-the-strand": {
    summary: "One evening with three filters, thirty seconds wanted on the water",
    value: {
      place: STRAND,
      date: "2027-03-20",
      session: "evening",
      camera: CAMERA,
      filters: [...BAG],
      targetShutterSeconds: 30,
      sky: { cloudCover: { low: 5, middle: 30, high: 40 }, temperatureC: 6, relativeHumidity: 90 },
    },
  },
} as const;

export const OUTING_COMPARISON = {
  "two-places-two-evenings": {
    summary: "Which of two places, on which of two evenings",
    value: {
      places: [{ place: STRAND }, { place: SLACK_VIEW, camera: { azimuthDeg: 268 } }],
      dates: ["2027-03-20", "2027-03-21"],
      session: "evening",
      camera: CAMERA,
    },
  },
} as const;
