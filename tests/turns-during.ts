/** How often something else had its turn while an answer was made. */
export async function turnsDuring(answer: () => Promise<unknown>): Promise<number> {
  let turns = 0;
  let over = false;
  const count = (): void => {
    turns++;
    if (!over) setImmediate(count);
  };
  // before the work asks for its first turn, so that the turn in which it ends counts too
  setImmediate(count);
  await answer().finally(() => {
    over = true;
  });
  return turns;
}
