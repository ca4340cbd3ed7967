using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>Carries out a method after the number and types of arguments and the role were checked.</summary>
/// <param name="caller">Who calls.</param>
/// <param name="target">The object of the call.</param>
/// <param name="inputs">Input arguments, as many as the method declares.</param>
/// <returns>Status, results per argument and output arguments.</returns>
public delegate CallMethodResult MethodHandler(CallerContext caller, Node target, Variant[] inputs);
