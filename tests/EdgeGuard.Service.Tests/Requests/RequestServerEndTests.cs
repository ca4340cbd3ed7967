namespace EdgeGuard.Service.Tests.Requests;

/// <summary>The end of the local door where its file cannot be removed any more: it must not keep the guard from ending in order.</summary>
public sealed class RequestServerEndTests
{
    [Fact]
    public void A_data_folder_that_is_gone_does_not_hinder_the_end()
    {
        using var door = new RequestDoor();
        Directory.Delete(door.Folder, recursive: true);
        door.Close();
        Assert.False(Directory.Exists(door.Folder));
    }
}
