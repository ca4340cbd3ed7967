namespace EdgeGuard.OpcUa.AddressSpace;

/// <summary>Takes a value a client wrote, after role, access level, type and range were checked; the result goes to the client.</summary>
/// <param name="caller">Who writes.</param>
/// <param name="variable">The variable.</param>
/// <param name="value">The whole value.</param>
public delegate StatusCode VariableWriteHandler(CallerContext caller, VariableNode variable, in DataValue value);
