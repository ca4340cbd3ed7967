namespace EdgeGuard.Core.Interlocks;

/// <summary>How many of how many sensors of one role must demand.</summary>
public enum VotingScheme : byte
{
    /// <summary>One sensor, one demand.</summary>
    OneOutOfOne = 0,

    /// <summary>Two sensors, one demand is enough.</summary>
    OneOutOfTwo = 1,

    /// <summary>Two sensors, both must demand.</summary>
    TwoOutOfTwo = 2,

    /// <summary>Three sensors, two must demand.</summary>
    TwoOutOfThree = 3,
}
