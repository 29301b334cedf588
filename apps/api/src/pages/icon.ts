/** The sun half behind a ridge. */
export const ICON =
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><rect width="32" height="32" rx="6" fill="#e9eff0"/><circle cx="19" cy="16" r="7" fill="#c26a10"/><path d="M0 24l7-6 5 3 8-8 6 5 6-2v10a6 6 0 0 1-6 6H6a6 6 0 0 1-6-6z" fill="#33443c"/></svg>';
