import { fieldErrorsFromZod } from "@fieldstop/api/problems/from-zod";
import { describe, expect, it } from "vitest";
import { z } from "zod";

const Shape = z.strictObject({
  place: z.strictObject({ latitude: z.number().max(90) }),
  kind: z.enum(["nd", "polarizer"]),
  size: z.union([z.literal("small"), z.strictObject({ widthMm: z.number(), heightMm: z.number() })]).optional(),
  points: z.array(z.number()).min(2),
});

function errorsOf(input: unknown) {
  const result = Shape.safeParse(input);
  return result.success ? [] : fieldErrorsFromZod("json", input, result.error);
}

describe("errors of a body", () => {
  it("point to each field with what came and what is allowed", () => {
    expect(errorsOf({ place: { latitude: 91 }, kind: "fog", points: [1] })).toEqual([
      { pointer: "/place/latitude", detail: "more than 90", received: 91, allowed: "at most 90" },
      { pointer: "/kind", detail: "not one of the values allowed", received: "fog", allowed: '"nd", "polarizer"' },
      {
        pointer: "/points",
        detail: "fewer than 2 entries",
        received: "an array of 1",
        allowed: "number of entries at least 2",
      },
    ]);
  });

  it("name a missing field and an unknown one, the latter escaped as RFC 6901 asks", () => {
    expect(errorsOf({ place: { latitude: 1, "a/b~c": 2 }, kind: "nd" })).toEqual([
      { pointer: "/place/a~1b~0c", detail: expect.stringContaining("a/b~c"), received: 2, allowed: expect.any(String) },
      { pointer: "/points", detail: "this field is required", allowed: "a JSON array" },
    ]);
  });

  it("say of any field that is absent that it is required, with what it may be", () => {
    const Choice = z.discriminatedUnion("kind", [z.strictObject({ kind: z.literal("flat") })]);
    const Choices = z.strictObject({
      kind: z.enum(["nd"]),
      size: z.union([z.enum(["a"]), z.strictObject({})]),
      horizon: Choice,
    });
    const { error } = Choices.safeParse({ horizon: {} });
    expect(fieldErrorsFromZod("json", { horizon: {} }, error as z.ZodError)).toEqual([
      { pointer: "/kind", detail: "this field is required", allowed: '"nd"' },
      { pointer: "/size", detail: "this field is required", allowed: '"a"' },
      { pointer: "/horizon/kind", detail: "this field is required" },
    ]);
  });

  it("look into the branch of a union that the input came nearest to", () => {
    const pointers = errorsOf({
      place: { latitude: 1 },
      kind: "nd",
      points: [1, 2],
      size: { widthMm: 36, heightMm: "x" },
    });
    expect(pointers).toMatchObject([{ pointer: "/size/heightMm", received: "x" }]);
  });

  it.each([
    [z.number(), "5", "not a number"],
    [z.number(), JSON.parse("1e999"), "beyond what a number can be"],
    [z.int(), 1.5, "not a whole number"],
    [z.string(), 5, "not text"],
    [z.boolean(), null, "not true or false"],
    [z.strictObject({}), [], "not a JSON object"],
    [z.array(z.number()), {}, "not a JSON array"],
    [z.literal("any"), "some", 'not "any"'],
    [z.number().gt(0), 0, "not more than 0"],
    [z.number().lt(9), 9, "not less than 9"],
    [z.string().max(3), "long", "more than 3 characters"],
    [z.array(z.number()).max(1), [1, 2], "more than 1 entry"],
    [z.iso.date(), "20 March", "not a date such as 2027-03-20"],
    [z.string().regex(/^a$/), "b", "not of the form that is documented"],
    [z.string().regex(/^a$/, "not an a"), "b", "not an a"],
  ])("say in words of ours what is wrong: %#", (schema, given, detail) => {
    const result = z.strictObject({ field: schema as z.ZodType }).safeParse({ field: given });
    const errors = result.success ? [] : fieldErrorsFromZod("json", { field: given }, result.error);
    expect(errors).toMatchObject([{ pointer: "/field", detail }]);
  });

  it("cut short what they send back", () => {
    const [error] = errorsOf({ place: { latitude: 1 }, kind: "k".repeat(5000), points: [1, 2] });
    expect(String(error?.received).length).toBeLessThan(200);
  });

  it("refuse a prototype by name, like any other unknown field", () => {
    const input: unknown = JSON.parse('{"place":{"latitude":1},"kind":"nd","points":[1,2],"__proto__":{"a":1}}');
    expect(errorsOf(input)).toMatchObject([{ pointer: "/__proto__" }]);
  });
});
