/** Write to standard output. Resolves once it is written, rejects where it cannot be. */
export function print(text: string): Promise<void> {
  return new Promise((resolve, reject) => {
    process.stdout.write(text, (error) => (error ? reject(error) : resolve()));
  });
}
