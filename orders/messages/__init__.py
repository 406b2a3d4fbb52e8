"""Letters on their way out, the worker that sends them, and photographs."""
