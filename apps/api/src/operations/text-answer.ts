import { z } from "@hono/zod-openapi";

/** Text of a type of its own as the answer of an operation. */
export function textAnswer<Type extends string>(type: Type, description: string) {
  return { description, content: { [type]: { schema: z.string() } } as Record<Type, { schema: z.ZodString }> } as const;
}
