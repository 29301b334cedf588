import { BAG, CAMERA, SLACK_VIEW, STRAND } from "../shared/ardvane.examples";

export const FORECASTS = {
  "two-spots": {
    summary: "This evening at two spots of the island",
    value: {
      places: [
        { id: "strand", place: STRAND, camera: CAMERA, filters: BAG },
        { id: "slack", place: SLACK_VIEW, sky: { cloudCover: { low: 10, middle: 30, high: 50 } } },
      ],
    },
  },
};
