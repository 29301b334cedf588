/** What a platform hands to the app beside a request; Node's connection among it. */
export interface AppEnv {
  Bindings: { readonly incoming?: { readonly url?: string | undefined } };
}
