using System.Globalization;
using EdgeGuard.VirtualPlant.Cabinets;

namespace EdgeGuard.VirtualPlant.Process;

/// <summary>Appends one row of true values per unit and call to a CSV file, for charts.</summary>
public sealed class TraceWriter : IDisposable
{
    /// <summary>First line of a new file.</summary>
    public const string Header = "utc,unit,element_c,element_indicated_c,lining_c,gas_c,outlet_indicated_c,setpoint_c,output_percent,power_kw,flow_kg_per_h,meter_kg_per_h,blower_percent,permit,contactor_closed,key";

    private readonly StreamWriter _writer;

    /// <summary>Opens the file for appending; writes the header when it is new or empty.</summary>
    public TraceWriter(string path)
    {
        bool isNew = !File.Exists(path) || new FileInfo(path).Length == 0;
        _writer = new StreamWriter(path, append: true) { NewLine = "\n" };
        if (isNew)
        {
            _writer.WriteLine(Header);
        }
    }

    /// <summary>Writes the rows of this moment.</summary>
    public void Write(Plant plant)
    {
        ArgumentNullException.ThrowIfNull(plant);
        string utc = plant.NowUtc.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
        foreach (CabinetTruth t in plant.Truth().Units)
        {
            _writer.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{utc},{t.Unit},{t.ElementC:F2},{t.ElementIndicatedC:F2},{t.LiningC:F2},{t.GasC:F2},{t.OutletIndicatedC:F2},{t.SetpointC:F2},{t.OutputPercent:F2},{t.PowerKw:F3},{t.FlowKgPerHour:F2},{t.MeterKgPerHour:F2},{t.BlowerPercent:F1},{t.Permit},{(t.ContactorClosed ? 1 : 0)},{t.Key}"));
        }

        _writer.Flush();
    }

    /// <inheritdoc/>
    public void Dispose() => _writer.Dispose();
}
