import {
  type AlignmentsInput,
  alignments,
  type LightLevelsInput,
  type LightWindowsInput,
  lightLevels,
  lightWindows,
} from "@fieldstop/operations";
import { lightWindowsCalendar } from "../../formats/light-windows-calendar";
import { languageFor } from "../../formats/messages/language";
import { lifespanOf } from "../../middleware/answer";
import { lacksUnreadGround } from "../../middleware/cache-control";
import type { WrittenAnswer } from "../forecast/forecast-jobs";
import { eachPossible } from "../shared/coming-days";
import { drawLevels } from "./draw-levels";

/** Compute light and write it: the part that takes long, on plain data. */
export const lightJobs = {
  lightLevelsJson: (input: LightLevelsInput): string => JSON.stringify(lightLevels(input)),

  lightLevelsPicture: ({ input, width }: { readonly input: LightLevelsInput; readonly width: number }): string =>
    drawLevels(lightLevels(input), width),

  alignmentsJson: (input: AlignmentsInput): string => JSON.stringify(alignments(input)),

  lightCalendar({
    input,
    dates,
    lang,
  }: {
    readonly input: LightWindowsInput;
    readonly dates: readonly string[];
    readonly lang: string | undefined;
  }): WrittenAnswer {
    const light = eachPossible(dates, (date) => lightWindows(input, date));
    const lifespan = { ...lifespanOf(light[0]), short: light.some(lacksUnreadGround) };
    return { text: lightWindowsCalendar(light, languageFor(lang).messages), lifespan };
  },
};
