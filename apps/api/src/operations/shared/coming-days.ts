import { othersTurn, placeTime, type Surroundings } from "@fieldstop/answers";
import { addDays, DomainError } from "@fieldstop/core";

interface AskedDays {
  readonly place: { readonly latitude: number; readonly longitude: number; readonly timeZone?: string | undefined };
  /** The first; default today at the place. */
  readonly date?: string | undefined;
  readonly days: number;
}

/** The answers of some days in a row. Days that have none, as past the last year, are left out; where no day has one, the first says why. */
export async function comingDays<Answer>(
  surroundings: Surroundings,
  { place, date, days }: AskedDays,
  answerOf: (date: string) => Promise<Answer>,
): Promise<Answer[]> {
  const { clock } = placeTime(surroundings, place);
  const first = date ?? clock.dateAt(surroundings.nowMs());
  const answers: Answer[] = [];
  let refusal: unknown;
  for (let i = 0; i < days; i++) {
    await othersTurn(surroundings.signal);
    try {
      answers.push(await answerOf(addDays(first, i)));
    } catch (error) {
      if (!(error instanceof DomainError && error.code === "impossible")) throw error;
      refusal ??= error;
    }
  }
  if (answers.length === 0) throw refusal;
  return answers;
}
