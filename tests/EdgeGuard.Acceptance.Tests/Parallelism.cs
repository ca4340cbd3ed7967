// The tests here mostly wait for processes in real time, so more of them than the machine has cores run side by side;
// their time limits are those of watchdogs, not of a quiet machine. What measures reaction runs alone at the end.
[assembly: Xunit.v3.Parallelization(MaxThreads = 4)]
[assembly: TestCollectionOrderer(typeof(EdgeGuard.Acceptance.Tests.LongestFirst))]
