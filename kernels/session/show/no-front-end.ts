/** Cells' globals that need a front end, where there is none: a notebook that is run as a whole. */
export const noFrontEnd = {
  prompt: async (): Promise<string> => {
    throw new Error("prompt: nobody can be asked here");
  },
  comms: {
    register: () => undefined,
    open: (target: string) => ({
      id: "",
      target,
      send: () => undefined,
      close: () => undefined,
      onMessage: null,
      onClose: null,
    }),
  },
};
