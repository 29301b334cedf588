/** Which part of a request an operation is asked by. */
export type AskedBy = "query" | "json" | "param";
