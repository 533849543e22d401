/** How a command says with which code the program ends. */
export type SetExit = (code: number) => void;
