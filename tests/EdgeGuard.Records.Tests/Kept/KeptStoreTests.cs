using EdgeGuard.Records.Kept;

namespace EdgeGuard.Records.Tests.Kept;

public sealed class KeptStoreTests
{
    [Trait("requirement", "KEEP-1")]
    [Fact]
    public void A_file_is_replaced_whole_and_what_a_crash_left_half_written_is_never_read()
    {
        using var folder = new TempFolder();
        var store = new KeptStore(Path.Combine(folder.Path, "kept"));
        var codec = new KeptCodec();
        KeptRecord record = KeptSample.One();
        codec.Write(record);
        store.Write("N-1", codec.Written);

        // Power went in the middle of the next one: its name is not yet the name that is read.
        File.WriteAllBytes(store.PathOf("N-1") + ".new", codec.Written[..100].ToArray());
        Assert.True(store.TryRead("N-1", out KeptRecord? read, out string hash, out string fault), fault);
        Assert.Equal(record.TripCount, read!.TripCount);
        Assert.Equal(KeptCodec.HashOf(codec.Written), hash);

        record.TripCount++;
        codec.Write(record);
        store.Write("N-1", codec.Written);
        Assert.True(store.TryRead("N-1", out read, out _, out fault), fault);
        Assert.Equal(record.TripCount, read!.TripCount);
    }

    [Fact]
    public void A_missing_file_is_no_fault_and_a_damaged_one_names_itself()
    {
        using var folder = new TempFolder();
        var store = new KeptStore(folder.Path);
        Assert.False(store.TryRead("N-1", out _, out _, out string fault));
        Assert.Empty(fault);

        File.WriteAllText(store.PathOf("N-1"), "trips 4\n");
        Assert.False(store.TryRead("N-1", out KeptRecord? read, out _, out fault));
        Assert.Null(read);
        Assert.StartsWith(store.PathOf("N-1"), fault, StringComparison.Ordinal);

        File.WriteAllBytes(store.PathOf("A-1"), new byte[1 << 20]);
        Assert.False(store.TryRead("A-1", out _, out _, out fault));
        Assert.Contains("expected at most", fault, StringComparison.Ordinal);
        Directory.CreateDirectory(store.PathOf("B-1"));
        Assert.False(store.TryRead("B-1", out _, out _, out fault)); // no file: nothing to read
    }

    [Fact]
    public void A_damaged_file_is_set_aside_for_a_person()
    {
        using var folder = new TempFolder();
        var store = new KeptStore(folder.Path);
        File.WriteAllText(store.PathOf("N-1"), "trips 4\n");
        string? aside = store.SetAside("N-1", "damaged");
        Assert.Equal("trips 4\n", File.ReadAllText(aside!));
        Assert.False(File.Exists(store.PathOf("N-1")));
        Assert.Null(store.SetAside("N-1", "damaged"));
    }

    [Trait("requirement", "ALLO-1")]
    [Fact]
    public void Saving_again_and_again_allocates_nothing_on_linux()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "elsewhere each file opened is an object");
        using var folder = new TempFolder();
        var store = new KeptStore(Path.Combine(folder.Path, "kept"));
        var codec = new KeptCodec();
        KeptRecord record = KeptSample.One();
        store.Prepare("N-1");
        Save(new KeptStore(Path.Combine(folder.Path, "other")), codec, record); // the code and the codec are warm, this store is not
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 10; i++)
        {
            Save(store, codec, record);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.True(store.TryRead("N-1", out KeptRecord? read, out _, out string fault), fault);
        Assert.Equal(record.TripCount, read!.TripCount);
    }

    [Fact]
    public void A_place_that_cannot_be_written_is_told_and_tried_again()
    {
        using var folder = new TempFolder();
        string kept = Path.Combine(folder.Path, "kept");
        var store = new KeptStore(kept);
        var codec = new KeptCodec();
        codec.Write(KeptSample.One());
        Directory.CreateDirectory(store.PathOf("N-1") + ".new");
        IOException refused = Assert.ThrowsAny<IOException>(() => store.Write("N-1", codec.Written));
        Assert.Contains("N-1.txt.new", refused.Message, StringComparison.Ordinal);

        Directory.Delete(kept, recursive: true);
        store.Write("N-1", codec.Written);
        Directory.Delete(kept, recursive: true); // the folder goes away in service: one failure, then it is made again
        Assert.ThrowsAny<IOException>(() => store.Write("N-1", codec.Written));
        store.Write("N-1", codec.Written);
        Assert.True(store.TryRead("N-1", out _, out _, out string fault), fault);
    }

    private static void Save(KeptStore store, KeptCodec codec, KeptRecord record)
    {
        record.TripCount++;
        codec.Write(record);
        store.Write("N-1", codec.Written);
    }
}
