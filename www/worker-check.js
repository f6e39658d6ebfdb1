// Answers boot.js if, and only if, this browser runs module workers: the export makes it a syntax error
// anywhere else.
postMessage("module workers work");
export {};
