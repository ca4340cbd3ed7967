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
}
