import { newApiKey } from "./server/api-keys";

try {
  const { key, line } = newApiKey(process.argv[2] ?? "");
  console.error("The key, shown this once; send it as Authorization: Bearer <key>:");
  console.error(`  ${key}`);
  console.error("The line for the file that FIELDSTOP_API_KEYS names:");
  console.log(line);
} catch (error) {
  console.error(`npm run api-key -- NAME: ${(error as Error).message}`);
  process.exitCode = 1;
}
