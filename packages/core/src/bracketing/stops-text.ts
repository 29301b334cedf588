/** Two decimals at most. */
export function plain(stops: number): number {
  return Math.round(stops * 100) / 100;
}

/** A number of stops as people write it: two decimals at most. */
export function stopsText(stops: number): string {
  const rounded = plain(stops);
  return `${rounded} ${rounded === 1 ? "stop" : "stops"}`;
}

/** A step or a bias as menus and people write it. */
export function evText(stops: number): string {
  return `${plain(stops)} EV`;
}
