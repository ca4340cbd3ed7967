// Real processes and clocks on a small machine: two tests side by side and no more.
[assembly: Xunit.v3.Parallelization(MaxThreads = 2)]
