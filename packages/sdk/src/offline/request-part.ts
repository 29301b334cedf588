/** Which part of a request an operation reads. */
export type RequestPart = "query" | "json" | "param";
