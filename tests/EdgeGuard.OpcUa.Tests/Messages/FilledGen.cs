using System.Reflection;
using CsCheck;

namespace EdgeGuard.OpcUa.Tests.Messages;

/// <summary>Makes an object and sets each of its properties from a generator.</summary>
internal sealed class FilledGen(Type type, PropertyInfo[] fields, Gen<object?>[] values) : Gen<object?>
{
    public override object? Generate(PCG pcg, Size? min, out Size size)
    {
        size = new Size(0);
        object filled = Activator.CreateInstance(type)!;
        for (int i = 0; i < fields.Length; i++)
        {
            fields[i].SetValue(filled, values[i].Generate(pcg, null, out _));
        }

        return filled;
    }
}
