// What the tests must be told from outside.

/** Value of a variable that `cargo xtask test` sets. */
export function setting(name) {
  const value = process.env[name];
  if (!value) {
    throw new Error(`the variable ${name} is not set; cargo xtask test sets it`);
  }
  return value;
}
