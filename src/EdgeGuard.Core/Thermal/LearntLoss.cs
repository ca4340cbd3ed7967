namespace EdgeGuard.Core.Thermal;

/// <summary>The learnt loss of an energy balance with its scatter, so that it outlives a run. Zero: nothing learnt.</summary>
/// <param name="Blocks">Quasi-steady blocks it was learnt from, 0 or more.</param>
/// <param name="KwPerK">Loss per kelvin of element above ambient, mean of the blocks, kW/K, 0 or above.</param>
/// <param name="Squares">Sum of the squared deviations from that mean, (kW/K)², 0 or above.</param>
public readonly record struct LearntLoss(int Blocks, double KwPerK, double Squares);
