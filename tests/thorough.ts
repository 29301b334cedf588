/** Whether tests go through everything that they could: `npm run test:load` does, `npm test` takes a part that stands for the rest. */
export const thorough = process.env["FIELDSTOP_TEST_THOROUGH"] === "1";
