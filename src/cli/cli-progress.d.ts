/** The part of cli-progress that is used; the package brings no types. */
declare module "cli-progress" {
  export class SingleBar {
    constructor(options: {
      readonly format: string;
      readonly stream: NodeJS.WritableStream;
      readonly clearOnComplete: boolean;
      readonly hideCursor: boolean;
    });
    start(total: number, value: number): void;
    update(value: number): void;
    stop(): void;
  }
}
