namespace EdgeGuard.VirtualPlant.Cabinets;

/// <summary>One PI controller from the outlet gas to the power.</summary>
/// <param name="controller">The controller.</param>
public sealed class SingleLoop(PiController controller) : IControlLoop
{
    /// <inheritdoc/>
    public double OutputPercent => controller.OutputPercent;

    /// <inheritdoc/>
    public void Step(in LoopValues values, double limitPercent, double seconds) =>
        controller.Step(values.SetpointC, values.OutletC, limitPercent, seconds);

    /// <inheritdoc/>
    public void Track(in LoopValues values, double percent) => controller.Track(percent);
}
