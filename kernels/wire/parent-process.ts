/** How often the parent process is looked for, ms. */
const every_ms = 2000;

/** Ends a kernel whose Jupyter server is gone: the process has another parent then. */
export function stopTogetherWithParent(stop: () => void): void {
  const parent = process.ppid;
  // 1 from the start: the kernel was started without a parent to look after it.
  if (process.env.JPY_PARENT_PID === undefined || parent === 1) return;
  const timer = setInterval(() => {
    if (process.ppid === parent) return;
    clearInterval(timer);
    stop();
  }, every_ms);
  timer.unref();
}
