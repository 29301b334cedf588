import fc from "fast-check";

// Property tests draw the same samples in every run, so that a change is judged by what it changes; FIELDSTOP_SEED draws others.
fc.configureGlobal({ seed: Number(process.env["FIELDSTOP_SEED"] ?? 20270320) });
