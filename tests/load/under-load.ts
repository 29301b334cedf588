export interface LoadFigures {
  readonly answered: number;
  /** Calls that ended without their answer, after all that the SDK tries. */
  readonly failures: readonly string[];
  /** Answers that differ from the first one to the same question. */
  readonly wrong: readonly string[];
  readonly slowestMs: number;
}

/** A question by its number, so that each can be held to the answer that it got before. */
export interface Question {
  readonly name: string;
  ask(): Promise<unknown>;
}

/** Asks without a pause while something happens to the service, and compares all answers to the same question. */
export async function underLoad(
  questions: (turn: number) => Question,
  happening: () => Promise<void>,
  callers = 8,
): Promise<LoadFigures> {
  const answers = new Map<string, string>();
  const failures: string[] = [];
  const wrong: string[] = [];
  let answered = 0;
  let slowestMs = 0;
  let going = true;
  let turn = 0;
  const call = async (): Promise<void> => {
    while (going) {
      const { name, ask } = questions(turn++);
      const startedAt = performance.now();
      try {
        const text = JSON.stringify(await ask());
        const before = answers.get(name);
        if (before === undefined) answers.set(name, text);
        else if (before !== text) wrong.push(name);
        answered++;
      } catch (error) {
        failures.push(`${name}: ${error}`);
      }
      slowestMs = Math.max(slowestMs, performance.now() - startedAt);
    }
  };
  const calls = Array.from({ length: callers }, call);
  try {
    await happening();
  } finally {
    going = false;
    await Promise.all(calls);
  }
  return { answered, failures, wrong, slowestMs };
}
