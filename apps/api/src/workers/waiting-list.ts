/** What waits, by client. Clients are served in turn, so that none waits behind all that another asks for; each client's own in the order it came. */
export class WaitingList<T> {
  /** The client whose turn it is comes first. */
  readonly #byClient = new Map<string, Set<T>>();
  #size = 0;

  get size(): number {
    return this.#size;
  }

  add(client: string, one: T): void {
    const own = this.#byClient.get(client) ?? new Set();
    this.#byClient.set(client, own.add(one));
    this.#size++;
  }

  /** Take one off the list that need not wait any more. */
  remove(client: string, one: T): void {
    const own = this.#byClient.get(client);
    if (own === undefined || !own.delete(one)) return;
    if (own.size === 0) this.#byClient.delete(client);
    this.#size--;
  }

  /** Take off the one whose turn it is; undefined where nothing waits. */
  next(): T | undefined {
    const [turn] = this.#byClient;
    if (turn === undefined) return undefined;
    const [client, own] = turn;
    const [one] = own;
    this.remove(client, one as T);
    // its next turn comes after that of all others
    if (this.#byClient.delete(client)) this.#byClient.set(client, own);
    return one;
  }
}
