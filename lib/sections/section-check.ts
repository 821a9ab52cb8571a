export function checkSection(_: unknown): void {}
