import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { Socket } from 'node:net';

/** Ends the taking of requests. */
export interface Closing {
  /** Requests being answered. */
  underWay(): number;
  /**
   * Takes no new connection, lets every request under way finish, and closes each connection behind its answer. What is
   * not finished after `seconds` is cut off.
   * @returns how many requests were cut off
   */
  close(seconds: number): Promise<number>;
}

/** Looks after the end of a server from its start on, since it has to know which requests are under way. */
export function prepareClosing(server: Server): Closing {
  const answers = new Set<ServerResponse>();
  const connections = new Set<Socket>();
  let closing = false;
  server.prependListener('connection', (socket: Socket) => {
    connections.add(socket);
    socket.once('close', () => connections.delete(socket));
  });
  server.prependListener('request', ({ socket }: IncomingMessage, answer: ServerResponse) => {
    answers.add(answer);
    // A client that keeps its connection would else go on asking a server that is about to go.
    if (closing) answer.shouldKeepAlive = false;
    answer.once('close', () => {
      answers.delete(answer);
      // One that had begun before the end promised to keep the connection.
      if (closing) socket.destroySoon();
    });
  });
  return {
    underWay: () => answers.size,
    close(seconds) {
      closing = true;
      for (const answer of answers) answer.shouldKeepAlive = false;
      return new Promise((resolve) => {
        let cut = 0;
        const timer = setTimeout(() => {
          cut = answers.size;
          server.closeAllConnections();
        }, seconds * 1000);
        server.close(() => {
          clearTimeout(timer);
          resolve(cut);
        });
        // Node itself passes over those that have not asked for anything yet.
        const busy = new Set([...answers].map((answer) => answer.socket));
        for (const socket of connections) if (!busy.has(socket)) socket.destroySoon();
      });
    },
  };
}

/**
 * Waits for work, but not longer than so many seconds: what hangs at the end must not keep the process.
 * @returns whether it was finished
 */
export async function within(seconds: number, work: Promise<unknown>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const limit = new Promise<false>((resolve) => {
    timer = setTimeout(() => resolve(false), seconds * 1000);
  });
  try {
    return await Promise.race([work.then(() => true), limit]);
  } finally {
    clearTimeout(timer);
  }
}
