import { type LightWindowsQueried, lightWindowsAt, lightWindowsInput } from "@fieldstop/operations";
import { languageFor } from "../../formats/messages/language";
import { drawLightStrip } from "../../formats/pictures/light-strip";
import { ICS_TYPE } from "../../middleware/accept";
import { type Answer, lifespanOf, text } from "../../middleware/answer";
import { runJob } from "../../services";
import { lookups, type OperationRequest, picture } from "../operation";
import { comingDays } from "../shared/coming-days";
import { DEFAULT_DAYS, DEFAULT_WIDTH_PX } from "../shared/form-options";

interface WindowsFormInput extends LightWindowsQueried {
  readonly name?: string | undefined;
  readonly lang?: string | undefined;
  /** Of a picture [px]. */
  readonly width?: number | undefined;
  /** Of a calendar. */
  readonly days?: number | undefined;
}

/** Answer with the light of a day in a form other than JSON. */
export async function answerLightWindows(
  request: Pick<OperationRequest, "services" | "context">,
  type: string,
  input: WindowsFormInput,
): Promise<Answer<never>> {
  const {
    lang,
    width = DEFAULT_WIDTH_PX,
    days = DEFAULT_DAYS,
    date,
    horizon,
    pressureHPa,
    temperatureC,
    ...place
  } = input;
  const services = lookups(request);
  const { tag, messages } = languageFor(lang);
  const headers = { "content-language": tag };
  const wanted = { place, horizon: horizon && { kind: horizon }, atmosphere: { pressureHPa, temperatureC } };
  if (type === ICS_TYPE) {
    const dates = comingDays(services, { place, date, days });
    const input = await lightWindowsInput(services, wanted);
    const calendar = await runJob(services, "lightCalendar", { input, dates, lang });
    return text(calendar.text, `${ICS_TYPE}; charset=utf-8`, calendar.lifespan, headers);
  }
  const light = await lightWindowsAt(services, { ...wanted, date });
  return picture(drawLightStrip(light, messages, width), lifespanOf(light), headers);
}
