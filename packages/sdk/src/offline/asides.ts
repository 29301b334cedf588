export { ASIDES } from "@fieldstop/answers/asides";
