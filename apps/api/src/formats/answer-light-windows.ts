import { type LightWindowsQueried, lightWindowsAt } from "@fieldstop/answers";
import { answerText, holdingOf } from "../middleware/answer";
import { lacksUnreadGround } from "../middleware/lifetime";
import { ICS_TYPE } from "../middleware/representations";
import { USUAL_DAYS, USUAL_WIDTH_PX } from "../operations/forecast/form-options.schema";
import type { AnswerContext } from "../operations/operation-context";
import { answerPicture } from "../operations/picture";
import { comingDays } from "../operations/shared/coming-days";
import { lightWindowsCalendar } from "./light-windows-calendar";
import { languageFor } from "./messages/language";
import { drawLightStrip } from "./pictures/light-strip";

interface Asked extends LightWindowsQueried {
  readonly name?: string | undefined;
  readonly lang?: string | undefined;
  /** Of a picture [px]. */
  readonly width?: number | undefined;
  /** Of a calendar. */
  readonly days?: number | undefined;
}

/** The light of a day in a form other than JSON. */
export async function answerLightWindows(c: AnswerContext, type: string, asked: Asked): Promise<Response> {
  const { lang, width = USUAL_WIDTH_PX, days = USUAL_DAYS, date, horizon, pressureHPa, temperatureC, ...place } = asked;
  const { services } = c.var;
  const { tag, messages } = languageFor(lang);
  const lightOf = (day: string | undefined) =>
    lightWindowsAt(services, {
      place,
      date: day,
      horizon: horizon && { kind: horizon },
      atmosphere: { pressureHPa, temperatureC },
    });
  c.header("Content-Language", tag);
  if (type === ICS_TYPE) {
    const light = await comingDays(services, { place, date, days }, lightOf);
    const holding = { ...holdingOf(light[0]), passing: light.some(lacksUnreadGround) };
    const text = await lightWindowsCalendar(light, messages);
    return answerText(c, text, { "Content-Type": `${ICS_TYPE}; charset=utf-8` }, holding);
  }
  const light = await lightOf(date);
  return answerPicture(c, drawLightStrip(light, messages, width), holdingOf(light));
}
