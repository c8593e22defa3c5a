import { Component, type ErrorInfo, type ReactNode } from 'react';

interface Props {
  readonly children: ReactNode;
}

interface State {
  readonly error: Error | null;
}

/** Shows what failed instead of a white screen. The recording goes on in the host meanwhile. */
export class ErrorBoundary extends Component<Props, State> {
  override state: State = { error: null };

  static getDerivedStateFromError(error: unknown): State {
    return { error: error instanceof Error ? error : new Error(String(error)) };
  }

  override componentDidCatch(error: Error, info: ErrorInfo): void {
    console.error(error, info.componentStack);
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (error === null) return this.props.children;
    return (
      <main className="room">
        <div className="page sheet" role="alert">
          <h1>This screen failed</h1>
          <p>
            A running recording is not affected: samples go on to the disk. Show the screen again;
            if it fails again, pass on the line below.
          </p>
          <pre>{error.message}</pre>
          <div>
            <button
              type="button"
              className="primary"
              onClick={() => this.setState({ error: null })}
            >
              Show the screen again
            </button>
          </div>
        </div>
      </main>
    );
  }
}
