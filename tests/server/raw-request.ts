import { connect } from 'node:net';

/**
 * Sends bytes as they are, which no client library would, and gives back what comes until the server closes.
 * @param more sent so many milliseconds apart, behind the first
 */
export function sendRaw(
  address: string,
  first: string,
  more: { readonly text: string; readonly everyMs: number } | undefined = undefined,
): Promise<{ readonly text: string; readonly ms: number }> {
  const { hostname, port } = new URL(address);
  return new Promise((done, failed) => {
    const began = performance.now();
    let text = '';
    const socket = connect({ host: hostname, port: Number(port) }, () => socket.write(first));
    const timer =
      more === undefined
        ? undefined
        : setInterval(() => socket.writable && socket.write(more.text), more.everyMs);
    socket.setEncoding('latin1');
    socket.on('data', (piece) => {
      text += piece;
    });
    socket.on('close', () => {
      clearInterval(timer);
      done({ text, ms: performance.now() - began });
    });
    socket.on('error', (error: NodeJS.ErrnoException) => {
      // A server that cuts the connection off may do so before all was sent.
      if (error.code !== 'ECONNRESET' && error.code !== 'EPIPE') failed(error);
    });
  });
}

/** The status of an answer; 0 when there was none. */
export const statusOf = (text: string): number => Number(/^HTTP\/1\.1 (\d{3})/.exec(text)?.[1] ?? 0);
