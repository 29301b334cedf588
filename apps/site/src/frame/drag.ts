/** How far a drag went since the last move, as parts of the width and the height of what is dragged. */
export type Dragged = (right: number, down: number) => void;

/** Follows a pointer that is pressed on an element. A finger only turns, since up and down scroll the page; a mouse tilts, too. */
export function startDrag(event: PointerEvent, dragged: Dragged): void {
  if (event.button !== 0) return;
  const target = event.currentTarget as HTMLElement;
  target.setPointerCapture(event.pointerId);
  let { clientX, clientY } = event;
  const move = (moved: PointerEvent): void => {
    if (moved.pointerId !== event.pointerId) return;
    const { width, height } = target.getBoundingClientRect();
    const down = moved.pointerType === "touch" ? 0 : (moved.clientY - clientY) / height;
    dragged((moved.clientX - clientX) / width, down);
    ({ clientX, clientY } = moved);
  };
  const end = (): void => {
    target.removeEventListener("pointermove", move);
    for (const name of ENDS) target.removeEventListener(name, end);
  };
  target.addEventListener("pointermove", move);
  for (const name of ENDS) target.addEventListener(name, end);
}

const ENDS = ["pointerup", "pointercancel", "lostpointercapture"] as const;
