using EdgeGuard.OpcUa.AddressSpace;
using EdgeGuard.OpcUa.Messages;

namespace EdgeGuard.OpcUa.Server;

/// <summary>
/// Call (OPC 10000-4, 5.11.2): finds object and method, checks role, number and type of arguments, hands over to the
/// method's handler. A method may be named by its own NodeId or by that of the type's method it was made from.
/// </summary>
internal static class CallService
{
    public static IServiceResponse Call(in ServiceContext context, CallRequest request)
    {
        StatusCode status = OperationLimits.Judge(request.MethodsToCall?.Length, context.Limits.NodesPerMethodCall);
        if (status != StatusCode.Good)
        {
            return Fault.Of(status);
        }

        CallMethodRequest[] calls = request.MethodsToCall!;
        var results = new CallMethodResult[calls.Length];
        for (int i = 0; i < calls.Length; i++)
        {
            results[i] = Call(context, calls[i]);
            results[i].InputArgumentDiagnosticInfos ??= [];
            results[i].InputArgumentResults ??= [];
            results[i].OutputArguments ??= [];
        }

        return new CallResponse { Results = results, DiagnosticInfos = [] };
    }

    private static CallMethodResult Call(in ServiceContext context, CallMethodRequest call)
    {
        if (context.Space.Find(call.ObjectId) is not { } target)
        {
            return Refuse(StatusCode.BadNodeIdUnknown);
        }

        if (Find(context.Space, target, call.MethodId) is not { } method)
        {
            return Refuse(StatusCode.BadMethodInvalid);
        }

        CallMethodResult? refusal = Check(context, method, call.InputArguments ?? []);
        if (refusal is not null)
        {
            method.Refused?.Invoke(context.Caller, refusal.StatusCode);
            return refusal;
        }

        return method.Handler!(context.Caller, target, call.InputArguments ?? []);
    }

    private static CallMethodResult? Check(in ServiceContext context, MethodNode method, Variant[] inputs)
    {
        if (!method.IsExecutable)
        {
            return Refuse(StatusCode.BadNotExecutable);
        }

        if (!method.IsExecutableBy(context.Caller))
        {
            return Refuse(StatusCode.BadUserAccessDenied);
        }

        if (inputs.Length != method.InputArguments.Count)
        {
            return Refuse(inputs.Length < method.InputArguments.Count ? StatusCode.BadArgumentsMissing : StatusCode.BadTooManyArguments);
        }

        return CheckTypes(context.Space, method, inputs);
    }

    // The object's own method, or that of its type with the same browse name as the method that was named.
    private static MethodNode? Find(NodeSpace space, Node target, NodeId methodId)
    {
        if (space.Find(methodId) is not MethodNode named)
        {
            return null;
        }

        foreach (Reference reference in target.References)
        {
            if (reference.IsForward && reference.Target is MethodNode method && reference.Type.NodeId.IsStandard(StandardIds.HasComponent)
                && (ReferenceEquals(method, named) || method.BrowseName == named.BrowseName))
            {
                return method;
            }
        }

        return null;
    }

    private static CallMethodResult? CheckTypes(NodeSpace space, MethodNode method, Variant[] inputs)
    {
        StatusCode[]? results = null;
        for (int i = 0; i < inputs.Length; i++)
        {
            if (!Fits(space, method.InputArguments[i], inputs[i]))
            {
                results ??= new StatusCode[inputs.Length];
                results[i] = StatusCode.BadTypeMismatch;
            }
        }

        return results is null ? null : new CallMethodResult { StatusCode = StatusCode.BadInvalidArgument, InputArgumentResults = results };
    }

    private static bool Fits(NodeSpace space, Argument argument, Variant value)
    {
        bool array = value.Shape != VariantShape.Scalar;
        if (array != argument.ValueRank >= 0)
        {
            return false;
        }

        // Derived types such as Duration travel as their built-in ancestor.
        for (Node? type = space.Find(argument.DataType); type is not null; type = (type as TypeNode)?.SuperType)
        {
            if (type.NodeId is { NamespaceIndex: 0, Number: > 0 and <= 25 })
            {
                return type.NodeId.Number == (uint)value.Type || type.NodeId.IsStandard(StandardIds.BaseDataType);
            }
        }

        return false;
    }

    private static CallMethodResult Refuse(StatusCode status) => new() { StatusCode = status };
}
