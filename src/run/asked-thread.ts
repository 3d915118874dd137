/** A thread that answers what it is asked, in the order in which it is asked. */
import { Worker } from "node:worker_threads";

interface Waiting<Answer> {
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: Error) => void;
}

export class AskedThread<Question, Answer> {
  readonly #worker: Worker;
  readonly #waiting: Waiting<Answer>[] = [];
  #failure: Error | null = null;

  /**
   * @param script  built, and answering each question with one message: threads can't be started from TypeScript
   * @param what    what it is, in words: "a reading thread"
   */
  constructor(script: URL, what: string) {
    this.#worker = new Worker(script);
    this.#worker.on("message", (answer: Answer) => this.#waiting.shift()!.resolve(answer));
    this.#worker.on("error", (error: Error) => this.#fail(error));
    this.#worker.on("exit", (code) => this.#fail(new Error(`${what} ended (code ${code})`)));
  }

  /** Questions that it has not answered yet. */
  get busy(): number {
    return this.#waiting.length;
  }

  /** `given` changes hands instead of being copied. Throws what ended the thread, where something did. */
  ask(question: Question, given: readonly ArrayBuffer[] = []): Promise<Answer> {
    return new Promise((resolve, reject) => {
      if (this.#failure !== null) {
        reject(this.#failure);
        return;
      }
      this.#waiting.push({ resolve, reject });
      this.#worker.postMessage(question, [...given]);
    });
  }

  /** Says something that asks for no answer. */
  tell(message: Question): void {
    this.#worker.postMessage(message);
  }

  async close(): Promise<void> {
    this.#worker.removeAllListeners("exit");
    await this.#worker.terminate();
  }

  #fail(error: Error): void {
    this.#failure ??= error;
    for (const { reject } of this.#waiting.splice(0)) reject(this.#failure);
  }
}
