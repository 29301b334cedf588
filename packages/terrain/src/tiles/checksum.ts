/** How entries are checked: strong enough to catch any damage, and fast where processors have it built in. */
export const CHECKSUM = "sha256";
