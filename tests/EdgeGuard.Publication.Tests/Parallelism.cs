// Real processes and clocks on a small machine: three tests side by side, which mostly wait, and no more.
[assembly: Xunit.v3.Parallelization(MaxThreads = 3)]
