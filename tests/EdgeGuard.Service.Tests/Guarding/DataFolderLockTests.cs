using EdgeGuard.Service.Guarding;

namespace EdgeGuard.Service.Tests.Guarding;

public sealed class DataFolderLockTests
{
    [Fact]
    public void A_second_guard_is_refused_until_the_first_has_gone()
    {
        string folder = Directory.CreateTempSubdirectory("edgeguard").FullName;
        DataFolderLock? first = DataFolderLock.TryTake(folder);
        Assert.NotNull(first);
        Assert.Null(DataFolderLock.TryTake(folder));
        first.Dispose();
        using DataFolderLock? second = DataFolderLock.TryTake(folder);
        Assert.NotNull(second);
    }

    [Fact]
    public void A_lock_that_cannot_be_opened_for_another_reason_is_not_taken_for_another_guard()
    {
        string folder = Directory.CreateTempSubdirectory("edgeguard").FullName;
        string path = Path.Combine(folder, DataFolderLock.FileName);
        File.CreateSymbolicLink(path, path); // ELOOP, as good as a full or a read-only disk: an error that no other guard makes
        IOException fault = Assert.ThrowsAny<IOException>(() => DataFolderLock.TryTake(folder));
        Assert.Contains(path, fault.Message, StringComparison.Ordinal);
    }
}
