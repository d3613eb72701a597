"""The web page: a job from the tape to the packet. It parses, calls and shows; nothing else."""
